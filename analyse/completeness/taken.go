package completeness

import (
	"fmt"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// taken tells whether an image was taken as a rule asks, apart from view and kind,
// and where it was not, why. What the header does not say is unknown: a clip whose
// frames bear no time has no known length.
func (p *picture) taken(r *protocol.ImageRule) (fits answer, why string) {
	fits = yes
	for _, demand := range []func(*protocol.ImageRule) (answer, string){p.framed, p.lasting, p.fast, p.deep, p.scaled} {
		switch its, reason := demand(r); {
		case its == no:
			return no, reason
		case its == unknown:
			fits = unknown
		}
	}
	return fits, ""
}

func (p *picture) framed(r *protocol.ImageRule) (answer, string) {
	frames := p.Instance.Image.Frames
	return answerOf(frames >= r.MinFrames), fmt.Sprintf("has %d frames, %d needed", frames, r.MinFrames)
}

func (p *picture) lasting(r *protocol.ImageRule) (answer, string) {
	return between(p.DurationS, r.MinSeconds, ingest.Optional[float64]{}, "lasts %s s, %s s needed")
}

func (p *picture) fast(r *protocol.ImageRule) (answer, string) {
	return between(p.FrameRateHz, r.MinFrameRate, ingest.Optional[float64]{}, "has %s frames a second, %s needed")
}

func (p *picture) deep(r *protocol.ImageRule) (answer, string) {
	return between(p.DepthMM, r.MinDepthMM, r.MaxDepthMM, "is %s mm deep, %s mm needed")
}

// between holds a value against bounds that may be absent.
func between(value, low, high ingest.Optional[float64], text string) (answer, string) {
	switch {
	case !low.Set && !high.Set:
		return yes, ""
	case !value.Set:
		return unknown, ""
	case low.Set && value.Value < low.Value:
		return no, fmt.Sprintf(text, decimal(value.Value), decimal(low.Value))
	case high.Set && value.Value > high.Value:
		return no, fmt.Sprintf(text, decimal(value.Value), "at most "+decimal(high.Value))
	}
	return yes, ""
}

// scaled asks for a calibration that can be trusted (analyse.Picture.Calibration).
func (p *picture) scaled(r *protocol.ImageRule) (answer, string) {
	switch {
	case !r.Calibrated:
		return yes, ""
	case p.Calibration == "" || p.Calibration == string(analyse.CalibrationNone):
		return no, "has no calibration"
	case strings.Contains(p.Calibration, "suspect"):
		return no, "has a calibration that contradicts it"
	}
	return yes, ""
}
