package analyse

// enlargedStart is how much of what a region shows may lie above it, as a part of it:
// common practice, no source.
const enlargedStart = 0.05

// Enlarged tells a region that begins below the probe, and so is an enlarged part of
// the picture: top is the depth of its upper edge and span what it shows of depth, both
// in the same unit.
func Enlarged(top, span float64) bool { return top > enlargedStart*span }
