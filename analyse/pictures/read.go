package pictures

import (
	"errors"

	"leadline/analyse"
	"leadline/analyse/ruler"
	"leadline/ingest"
	"leadline/ingest/pixels"
)

// Source unpacks the first frame of an image. Its error is a *pixels.NotDecodedError
// where that is the file's own, and holds no path.
type Source func(*ingest.Instance) (*pixels.Frame, error)

// Read looks at the pictures of a study. It fills Ruler of every image that may have
// one, and RulerRatio of its regions.
func Read(s *analyse.Study, first Source) {
	for _, img := range s.Images {
		if promising(img) {
			read(img, first)
		}
	}
}

// promising tells ultrasound pictures, and others with a scanned picture in them.
func promising(img *analyse.Image) bool {
	return img.StatedUltrasound() || len(scanned(img)) > 0
}

func read(img *analyse.Image, first Source) {
	img.Ruler = &analyse.Ruler{}
	frame, err := first(img.Instance)
	if err != nil {
		img.Ruler.Reading = &ruler.Reading{Status: ruler.NotDecoded, Note: reason(err)}
		return
	}
	p, ok := describe(img, frame)
	if !ok {
		img.Ruler.Reading = &ruler.Reading{Status: ruler.Uncertain,
			Note: "there is a strip, whose marks are its own, and the header does not say where the picture lies"}
		return
	}
	img.Ruler.Reading = ruler.Find(p)
	compare(img)
}

func reason(err error) string {
	var own *pixels.NotDecodedError
	if errors.As(err, &own) {
		return own.Reason
	}
	return "it cannot be read: " + err.Error()
}
