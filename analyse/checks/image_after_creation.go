package checks

import (
	"fmt"
	"time"

	"leadline/analyse"
)

// ImageAfterCreation is the finding image-after-creation: an image is later than its own file.
var ImageAfterCreation = analyse.Check{
	ID:    "image-after-creation",
	Title: "an image was taken after its own file was made",
	Doc: "The time of the image (acquisition, else content, PS3.3 C.7.6.1) is more than a minute after its Instance Creation Date and Time" +
		" (PS3.3 C.12.1), so it lies in the future of whatever made the file. The clock of the device is ahead of that of the system which wrote the file," +
		" or was set back in between. No clock of the computer that runs the audit is asked: the same files give the same finding on any day.",
	Advice:   "Compare the clock of the device with a clock that is set by network.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(imageAfterCreation),
}

// creationTolerance leaves room for times that are cut to the minute (PS3.5 6.2, TM).
const creationTolerance = time.Minute

func imageAfterCreation(img *analyse.Image) string {
	at, timed := img.Taken()
	if !timed || !img.Created.HasTime || at.After(img.Created) <= creationTolerance {
		return ""
	}
	return fmt.Sprintf("taken %s after its file was made", spell(at.After(img.Created)))
}

// spell writes a length of time in the unit that a person would use.
func spell(d time.Duration) string {
	switch {
	case d >= 48*time.Hour:
		return fmt.Sprintf("%.0f days", d.Hours()/24)
	case d >= 2*time.Hour:
		return fmt.Sprintf("%.1f h", d.Hours())
	}
	return fmt.Sprintf("%.0f min", d.Minutes())
}
