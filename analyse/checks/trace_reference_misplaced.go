package checks

import "leadline/analyse"

// TraceReferenceMisplaced is the finding trace-reference-misplaced: the time of a trace is counted from elsewhere.
var TraceReferenceMisplaced = analyse.Check{
	ID:    "trace-reference-misplaced",
	Title: "the time of a trace is counted from elsewhere",
	Doc: "The reference pixel of an ECG or other trace is the time of the frame (PS3.3 C.8.5.5.1.16). Here it is the first pixel" +
		" of the picture, or counted from there, or far outside. Intervals on the trace stand; when in it the frame was" +
		" taken cannot be told.",
	Advice:   "Nothing needs doing for intervals; read the moment of a frame off the picture.",
	Severity: analyse.Note,
	OfDevice: true,
	Run:      eachImage(func(img *analyse.Image) string { return misplaced(img, true) }),
}
