package completeness

import (
	"fmt"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// miss is how an image falls short of a rule. share is how much of what was asked
// for there is, so that the nearest of several can be told; 0 where it is no number.
type miss struct {
	why   string
	share float64
}

// taken tells whether an image was taken as a rule asks, apart from view and kind,
// and where it was not, by what it fell short most. What the header does not say is
// unknown, and then why says what: a clip whose frames bear no time has no known
// length.
func (p *picture) taken(r *protocol.ImageRule) (fits answer, worst miss) {
	fits, worst = yes, miss{share: 1}
	for _, demand := range []func(*protocol.ImageRule) (answer, miss){p.framed, p.lasting, p.fast, p.deep, p.scaled} {
		switch its, m := demand(r); {
		case its == no && (fits != no || m.share < worst.share):
			fits, worst = no, m
		case its == unknown && fits == yes:
			fits, worst = unknown, m
		}
	}
	return fits, worst
}

func (p *picture) framed(r *protocol.ImageRule) (answer, miss) {
	frames := p.Instance.Image.Frames
	if frames >= r.MinFrames {
		return yes, miss{}
	}
	return no, miss{fmt.Sprintf("has %s, %d needed", analyse.Counted(frames, "frame", "frames"), r.MinFrames), float64(frames) / float64(r.MinFrames)}
}

func (p *picture) lasting(r *protocol.ImageRule) (answer, miss) {
	return between(p.DurationS, r.MinSeconds, ingest.Optional[float64]{}, "lasts %s s, %s s needed", "length")
}

func (p *picture) fast(r *protocol.ImageRule) (answer, miss) {
	return between(p.FrameRateHz, r.MinFrameRate, ingest.Optional[float64]{}, "has %s frames a second, %s needed", "frame rate")
}

func (p *picture) deep(r *protocol.ImageRule) (answer, miss) {
	return between(p.DepthMM, r.MinDepthMM, r.MaxDepthMM, "is %s mm deep, %s mm needed", "depth")
}

// between holds a value, which what names, against bounds that may be absent.
func between(value, low, high ingest.Optional[float64], text, what string) (answer, miss) {
	switch {
	case !low.Set && !high.Set:
		return yes, miss{}
	case !value.Set:
		return unknown, miss{why: what}
	case low.Set && value.Value < low.Value:
		return no, miss{fmt.Sprintf(text, decimal(value.Value), decimal(low.Value)), value.Value / low.Value}
	case high.Set && value.Value > high.Value:
		return no, miss{fmt.Sprintf(text, decimal(value.Value), "at most "+decimal(high.Value)), high.Value / value.Value}
	}
	return yes, miss{}
}

// scaled asks for a calibration that can be trusted (analyse.Picture.Calibration).
func (p *picture) scaled(r *protocol.ImageRule) (answer, miss) {
	switch {
	case !r.Calibrated:
		return yes, miss{}
	case p.Calibration == "" || p.Calibration == string(analyse.CalibrationNone):
		return no, miss{why: "has no calibration"}
	case strings.Contains(p.Calibration, "suspect"):
		return no, miss{why: "has a calibration that contradicts it"}
	}
	return yes, miss{}
}
