package analyse

import "leadline/ingest"

// Mode is the kind of picture that a value was taken in. Lengths of a 2D picture and of
// an M-mode strip are two methods whose values are not one another's repeats (Lopez
// 2010, J Am Soc Echocardiogr 23:465; from memory).
type Mode string

// The modes, by Region Spatial Format (PS3.3 C.8.5.5.1.1).
const (
	Mode2D       Mode = "2d"
	ModeMMode    Mode = "m-mode"
	ModeSpectral Mode = "spectral"
	ModeTrace    Mode = "trace"
	// ModeUntold is that of a value without a caliper whose report does not say, and of
	// an interval between frames.
	ModeUntold Mode = ""
)

// ModeOf is the mode of a region. Pixel Spacing, which nil stands for, scales pictures
// alone.
func ModeOf(r *ingest.Region) Mode {
	if r == nil {
		return Mode2D
	}
	switch r.SpatialFormat.Value {
	case ingest.Format2D:
		return Mode2D
	case ingest.FormatMMode:
		return ModeMMode
	case ingest.FormatSpectral:
		return ModeSpectral
	case ingest.FormatWaveform:
		return ModeTrace
	}
	return ModeUntold
}
