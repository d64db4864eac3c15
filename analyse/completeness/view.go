package completeness

import (
	"fmt"
	"strings"

	"leadline/analyse"
	"leadline/ingest/protocol"
)

// view is a study made ready to be asked by many items.
type view struct {
	study    *analyse.Study
	pictures []picture
}

// picture is an image with what is known of its view. view is empty where the
// image has neither a code nor a name that the vocabulary knows.
type picture struct {
	*analyse.Image
	name       string
	view, side string
}

func newView(s *analyse.Study) *view {
	v := &view{study: s, pictures: make([]picture, len(s.Images))}
	names := namesOf(s.Images)
	for i, img := range s.Images {
		v.pictures[i] = picture{Image: img, name: names[i]}
		header := &img.Instance.Image.View
		if known, side, ok := protocol.ViewOf(header.Code, header.Name); ok {
			v.pictures[i].view, v.pictures[i].side = known.ID, side
		}
		switch lateral(img) {
		case "L":
			v.pictures[i].side = "left"
		case "R":
			v.pictures[i].side = "right"
		}
	}
	return v
}

// lateral is Image Laterality, else the Laterality of the series.
func lateral(img *analyse.Image) string {
	if l := img.Instance.Image.ImageLaterality; l != "" {
		return l
	}
	if img.Series != nil {
		return img.Series.Laterality
	}
	return ""
}

// namesOf names images by instance number where no two of the study share it,
// else by their row among the images of the study.
func namesOf(images []*analyse.Image) []string {
	times := map[int64]int{}
	for _, img := range images {
		if n, ok := img.InstanceNumber.Get(); ok {
			times[n]++
		}
	}
	names := make([]string, len(images))
	for i, img := range images {
		names[i] = fmt.Sprintf("image in row %d of the study", i+1)
		if n, ok := img.InstanceNumber.Get(); ok && times[n] == 1 {
			names[i] = fmt.Sprintf("image %d", n)
		}
	}
	return names
}

// seen tells whether an image shows one of the views, and how many images may show
// one but do not say, or name only a wider view.
func (v *view) seen(views []string) (seen bool, unlabelled int) {
	for i := range v.pictures {
		switch v.pictures[i].shows(&protocol.ImageRule{Views: views}) {
		case yes:
			seen = true
		case unknown:
			unlabelled++
		}
	}
	return seen, unlabelled
}

func unlabelledNote(n int) string {
	return counted(n, "image has no known view code or view name, or that of a wider view, so it cannot be judged",
		"images have no known view code or view name, or that of a wider view, so they cannot be judged")
}

// counted writes a number before the one or the many.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// list joins words as "a, b or c".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// join joins the texts that are not empty.
func join(texts []string, by string) string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return strings.Join(out, by)
}

func ids(refs []protocol.Ref) []string {
	out := make([]string, len(refs))
	for i, r := range refs {
		out[i] = r.ID
	}
	return out
}

// enough is the status of a count: met, partial or missing.
func enough(found, needed int) analyse.ItemStatus {
	switch {
	case found >= needed:
		return analyse.Met
	case found > 0:
		return analyse.Partial
	}
	return analyse.Missing
}
