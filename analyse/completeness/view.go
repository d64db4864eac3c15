package completeness

import (
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/analyse/measures"
	"leadline/ingest/dcm"
	"leadline/ingest/protocol"
	"leadline/ingest/terms"
)

// view is a study made ready to be asked by many items.
type view struct {
	study    *analyse.Study
	pictures []picture
}

// picture is an image with its name and the side it shows. ViewID is empty where
// nothing tells the view in words that the vocabulary knows.
type picture struct {
	*analyse.Image
	name, side string
	// claimed tells that an item of the protocol names the view as the header writes
	// it, so that it is known to be no other.
	claimed bool
}

func newView(s *analyse.Study) *view {
	v := &view{study: s, pictures: make([]picture, len(s.Images))}
	names := namesOf(s.Images)
	for i, img := range s.Images {
		v.pictures[i] = picture{Image: img, name: names[i], side: img.Side()}
	}
	return v
}

// claim marks the images whose view the protocol names by the unit's own words.
func (v *view) claim(p *protocol.Protocol) {
	var own []*protocol.Shown
	name := func(s *protocol.Shown) {
		if len(s.ViewNames)+len(s.ViewCodes) > 0 {
			own = append(own, s)
		}
	}
	name(&p.When.Shown)
	for i := range p.Items {
		if it := &p.Items[i]; it.If != nil {
			name(&it.If.Shown)
		}
		for _, r := range p.Items[i].Rules {
			if r.Image != nil {
				name(&r.Image.Shown)
			}
		}
	}
	for k := range v.pictures {
		v.pictures[k].claimed = slices.ContainsFunc(own, v.pictures[k].namedBy)
	}
}

// namedBy tells that the view name or view code of the header is one of a unit's own.
func (p *picture) namedBy(s *protocol.Shown) bool {
	its := &p.Instance.Image.View
	if slices.ContainsFunc(s.ViewCodes, func(c dcm.Code) bool { return its.Code.Is(c.Value, c.Scheme) }) {
		return true
	}
	if len(s.ViewNames) == 0 {
		return false
	}
	name := terms.Normal(its.Name)
	return name != "" && slices.ContainsFunc(s.ViewNames, func(own string) bool { return terms.Normal(own) == name })
}

// called names the image as evidence, with where its view and mode were learned if
// not from its header.
func (p *picture) called() string {
	switch {
	case p.ViewFrom == "" && p.ModesFrom == "":
		return p.name
	case p.ViewFrom == p.ModesFrom:
		return fmt.Sprintf("%s (view and mode from %s)", p.name, p.ViewFrom)
	case p.ModesFrom == "":
		return fmt.Sprintf("%s (view from %s)", p.name, p.ViewFrom)
	case p.ViewFrom == "":
		return fmt.Sprintf("%s (mode from %s)", p.name, p.ModesFrom)
	}
	return fmt.Sprintf("%s (view from %s, mode from %s)", p.name, p.ViewFrom, p.ModesFrom)
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

// seen tells whether an image shows what is asked for, and how many images may show
// one but do not say, or name only a wider view.
func (v *view) seen(s *protocol.Shown) (seen bool, unlabelled int) {
	for i := range v.pictures {
		switch v.pictures[i].showsView(s) {
		case yes:
			seen = true
		case unknown:
			unlabelled++
		}
	}
	return seen, unlabelled
}

func unlabelledNote(n int) string {
	return analyse.Counted(n, "image has no known view code or view name, or that of a wider view, so it cannot be judged",
		"images have no known view code or view name, or that of a wider view, so they cannot be judged")
}

// list joins words as "a, b or c", where last is "or".
func list(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
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

func measureTitles(refs []protocol.Ref) []string {
	out := ids(refs)
	for i, id := range out {
		out[i] = measures.TitleOf(id)
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
