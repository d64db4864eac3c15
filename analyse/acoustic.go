package analyse

import "leadline/ingest"

// AcousticRow is how the images of one kind of exam, one device and one month stand
// on one output index, and on one limit where there is one.
type AcousticRow struct {
	// Exam is as the table of limits names it, empty where no header told any; Told
	// says which facts of the header told it.
	Exam, Told string
	Device     *ingest.Device
	// Month is YYYY-MM, empty for studies without a date and where no image of several
	// months gives the index.
	Month string
	Index ingest.AcousticIndex
	// Limit is nil where the table has none for the exam, or no image gives the index.
	Limit *ingest.AcousticLimit
	// Studies and Images count all of the group, With the images whose header gives
	// the index, Above those of them above the limit; SetAside are those whose index is
	// absurd, which are in no other count but Images.
	Studies, Images, With, Above, SetAside int
	// Share is Above ÷ With, absent where no header gives the index or there is no limit.
	Share ingest.Optional[float64]
	// Median and Max are of the images with the index.
	Median, Max ingest.Optional[float64]
	// Clips are those with the index whose length is known, ClipS their length
	// together and AboveS that of those above the limit. Untimed counts the other clips
	// with the index.
	Clips, Untimed int
	ClipS, AboveS  float64
	// LongestS is the longest time above the limit in clips of one study; Beyond counts
	// the studies in which it is longer than the limit allows.
	LongestS float64
	Beyond   int
}

// AcousticTotal is how all images of one kind of exam stand on the lowest limit of one
// output index.
type AcousticTotal struct {
	Exam  string
	Index ingest.AcousticIndex
	Limit *ingest.AcousticLimit
	// Above of With images lie above it; Max is the largest value.
	Above, With int
	Max         float64
	// Devices are those that made images with the index, the one with the largest share
	// above the limit first.
	Devices []AcousticShare
}

// AcousticShare is Above of With images of one device.
type AcousticShare struct {
	Device      *ingest.Device
	Above, With int
}

// AcousticExcess is the images of one study that lie above the lowest limit of an
// output index.
type AcousticExcess struct {
	Index      ingest.AcousticIndex
	Exam, Told string
	// Lowest is the lowest limit of the index for the exam, Highest the highest that
	// an image lies above.
	Lowest, Highest *ingest.AcousticLimit
	// Above of With images lie above Lowest; Max is the largest value, on the image
	// SOPUID.
	Above, With int
	Max         float64
	SOPUID      string
}
