package checks

import (
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
)

// LossyHistory is the finding lossy-history: lossy compression that is unstated, repeated or strong.
var LossyHistory = analyse.Check{
	ID:    "lossy-history",
	Title: "lossy compression is unstated, repeated or strong",
	Doc: "Once a picture was compressed with loss, Lossy Image Compression (0028,2110) is 01 for ever and every step adds a " +
		"ratio (PS3.3 C.7.6.1.1.5). Here the encoding loses and the flag does not say so, or the flag says so and the " +
		"encoding, which loses nothing, hides it, or several steps stand in the header, or a ratio above 40 of a format that is no video " +
		"(common practice, no source: ultrasound is kept at 5 to 30). The scale is untouched; edges that calipers are set on" +
		" are not. Plain JPEG as the device wrote it is no finding.",
	Advice:   "Measure on the original where it still exists; find the step that compresses.",
	Severity: analyse.Note,
	OfDevice: true,
	Run:      eachImage(lossyHistory),
}

// strongRatio is the compression ratio above which pictures are said to be strongly
// compressed: common practice, no source.
const strongRatio = 40

// losing are the transfer syntaxes that always lose (PS3.5 A.4: JPEG baseline and
// extended, JPEG-LS near-lossless, MPEG and HEVC), and losingNothing those that never
// do; videos also save what stays alike between frames; JPEG 2000 and its kin may do either.
var (
	losing        = []string{"50", "51", "81", "100", "101", "102", "103", "104", "105", "106", "107", "108"}
	video         = losing[3:] // MPEG2 is 100, the last of HEVC 108
	losingNothing = []string{
		"1.2.840.10008.1.2", "1.2.840.10008.1.2.1", "1.2.840.10008.1.2.1.99", "1.2.840.10008.1.2.2", "1.2.840.10008.1.2.5",
		syntaxOf + "57", syntaxOf + "70", syntaxOf + "80", syntaxOf + "90",
	}
)

const syntaxOf = "1.2.840.10008.1.2.4."

func lossyHistory(img *analyse.Image) string {
	short, encapsulated := strings.CutPrefix(img.TransferSyntaxUID, syntaxOf)
	short, _, _ = strings.Cut(short, ".")
	lossy := img.Image.Lossy
	var said []string
	switch loses := encapsulated && slices.Contains(losing, short); {
	case loses && lossy.Compressed == "00":
		said = append(said, "the encoding loses and the flag says that nothing was lost")
	case loses && lossy.Compressed != "01":
		said = append(said, "the encoding loses and the flag is missing")
	case lossy.Compressed == "01" && slices.Contains(losingNothing, img.TransferSyntaxUID):
		said = append(said, "compressed with loss before, and stored without loss now")
	}
	if n := len(lossy.Ratios); n > 1 {
		said = append(said, fmt.Sprintf("compressed with loss %d times", n))
	}
	if n := len(lossy.Ratios); n > 0 && slices.Max(lossy.Ratios) > strongRatio && !slices.Contains(video, short) {
		said = append(said, fmt.Sprintf("compressed %.4g to 1", slices.Max(lossy.Ratios)))
	}
	return strings.Join(said, "; ")
}
