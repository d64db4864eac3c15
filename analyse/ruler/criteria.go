package ruler

// What makes a column of marks a ruler. None of it comes from a standard: the numbers
// were set on drawn pictures of known truth and on the real pictures that the tests
// name, so that all drawn confusers and all text fall outside.
const (
	// minTicks: five marks at equal distances happen, as lines of text and arrows of
	// focus do; a ruler of fewer than six is left alone.
	minTicks = 6
	// minPitch in pixels: nearer marks are dotted lines.
	minPitch = 5
	// minPresent is the share of ticks that must be seen between the first and the
	// last; others lie under text or bright echoes.
	minPresent = 0.8
	// maxResidual in pixels, and as a share of the pitch: devices set a tick on the
	// nearest row (0.29 rms), and resampling blurs it.
	maxResidual      = 0.45
	maxResidualShare = 0.03
	// maxScatter is the largest expanded uncertainty of the pitch (k = 2), as a share of
	// it, that the scatter of the rows alone may make: issue 6 wants 0.5 %.
	maxScatter = 0.005
	// maxStrangers is how many other marks, as a share of the ticks, may stand in the
	// column between them.
	maxStrangers = 0.25
	// minSpan is the share of the picture's height that a ruler covers at least (0.73 to
	// 1 in the real ones); minSpanAlike that where all marks are alike, which takes less
	// to happen by chance.
	minSpan      = 0.6
	minSpanAlike = 0.85
	// maxFading is how many times heavier the small marks of one half may be than those
	// of the other: the blocks of a grey bar fade.
	maxFading = 2.2
	// margin is the share of the picture's width at each side in which rulers stand;
	// dotted lines within the picture are cursors.
	margin = 0.2
	// minAlone is the share of ticks that stand alone, with nothing in clearance
	// pixels to both sides; letters never do.
	minAlone  = 0.7
	clearance = 4
	// minWhole is the share of ticks that are whole marks: cut out at half the brightness
	// they do not grow by clearance pixels. Strokes of letters do, and some ticks on
	// bright echoes.
	minWhole = 0.5
	// alike is how far the sizes of most minor ticks may lie apart, in pixels.
	alike     = 1
	minAlike  = 0.8
	maxHeight = 14
	// minDark is the share of the gaps between ticks that must be dark: nothing in them,
	// over the width of the tick above, is darkShare times as bright as that. Letters
	// have a second stroke there.
	minDark   = 0.6
	darkShare = 0.6
	// Small ticks are low, in pixels or as a share of the pitch; lines of text and the
	// blocks of bars are half as high as they are apart.
	lowPixels  = 3
	lowShare   = 0.25
	widthShare = 32
	minWidth   = 24
)

// levels are the brightnesses above which a mark is cut out: rulers are faint in some
// pictures, and stand on bright echoes in others.
var levels = []byte{24, 48, 80, 120, 170, 220}

// Larger marks are wider or higher than all smaller ones and heavier too, or heavier
// alone, by at least these factors; of the mass that goes with a size the medians count.
// Size alone does not: where a picture was
// resampled, every second mark may lie on one row and the others on two, of one mass.
const (
	largerSize     = 1.3
	largerWithMass = 1.2
	largerMass     = 1.5
)

// Bounds of plausible depth in mm for what a device shows of a newborn: common practice,
// no source.
const shallowest, deepest = 15, 200
