package checks

import (
	"leadline/analyse"
	"leadline/ingest"
)

// PixelDataCut is the finding pixel-data-cut: the picture is cut short.
var PixelDataCut = analyse.Check{
	ID:    "pixel-data-cut",
	Title: "the picture is cut short",
	Doc: "The pixel data end before their length or their fragments say (PS3.5 A.4, 8.1). The header was read;" +
		" a viewer may show part of the picture or refuse it.",
	Advice:   "Export the image again.",
	Severity: analyse.Warning,
	Run:      eachImage(pixelDataCut),
}

func pixelDataCut(img *analyse.Image) string {
	if img.Image.PixelData == ingest.PixelsCut {
		return "the file ends before its pixel data are whole"
	}
	return ""
}
