package completeness

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/ingest/protocol"
)

// imageNote gathers why images of a rule do not count: those that may be what was
// asked for, by what they do not say; those of the view and kind that were taken
// otherwise; and those that show the view otherwise.
type imageNote struct {
	possible int
	unsaid   []string            // reasons in the order they were met
	names    map[string][]string // images by reason
	short    []miss
	other    []string
}

// unsaid is what an image leaves open that may be what a rule asks for.
func (p *picture) unsaid(r *protocol.ImageRule) string {
	either := *r
	either.Side = ""
	_, missing := p.taken(r)
	switch {
	case p.shows(&either) == yes && p.shows(r) == unknown:
		return "no side"
	case p.shows(&either) == yes && p.ofKind(r) == unknown:
		return "no mode"
	case p.shows(&either) == yes:
		return "no " + missing.why
	case p.ViewID != "":
		return "only the wider view " + protocol.ViewTitle(p.ViewID)
	case p.View != "":
		return "a view that is not known"
	}
	return "no view"
}

func (n *imageNote) open(img *picture, reason string) {
	if n.names == nil {
		n.names = map[string][]string{}
	}
	if len(n.names[reason]) == 0 {
		n.unsaid = append(n.unsaid, reason)
	}
	n.possible++
	n.names[reason] = append(n.names[reason], img.name)
}

// shownMisses is how many of the nearest misses are told.
const shownMisses = 2

// text says what fell short: the count, the nearest misses, and apart from them
// what could not be judged, which comes first where it may decide.
func (n *imageNote) text(r *protocol.ImageRule, found, images int) string {
	var parts []string
	if found > 0 || r.Count > 1 {
		parts = append(parts, fmt.Sprintf("%d of %s", found, analyse.Counted(r.Count, noun(r), noun(r)+"s")))
	}
	surely := found+n.possible < r.Count
	if n.possible > 0 && !surely {
		parts = append(parts, "could not be judged: "+n.openText())
	}
	slices.SortStableFunc(n.short, func(a, b miss) int { return cmp.Compare(b.share, a.share) })
	var near []string
	for _, m := range n.short {
		near = append(near, m.why)
	}
	if len(near) == 0 {
		near = append(near, n.other...)
	}
	parts = append(parts, near[:min(len(near), shownMisses)]...)
	if more := len(near) - shownMisses; more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more of the view", more))
	}
	switch {
	case len(n.short) == 0 && len(n.other) > 0:
		parts = append(parts, wanted(r)+" needed")
	case len(near) == 0 && n.possible == 0 && found == 0 && images == 0:
		parts = append(parts, "the study has no images")
	case len(near) == 0 && n.possible == 0 && found == 0:
		parts = append(parts, fmt.Sprintf("none of the images (%d) is known to show %s", images, list(r.Listed(), "or")))
	}
	if n.possible > 0 && surely {
		parts = append(parts, "could not be judged: "+n.openText())
	}
	return join(parts, "; ")
}

// openText counts what could not be judged by what is not said.
func (n *imageNote) openText() string {
	var parts []string
	for _, reason := range n.unsaid {
		names := n.names[reason]
		if len(names) == 1 {
			parts = append(parts, names[0]+" tells "+reason)
		} else {
			parts = append(parts, fmt.Sprintf("%d images tell %s", len(names), reason))
		}
	}
	return strings.Join(parts, ", ")
}

// noun is what a rule counts.
func noun(r *protocol.ImageRule) string {
	if r.Type == "" {
		return "image"
	}
	return r.Type
}

// wanted says mode, kind and side that a rule asks for, e.g. "a 2D clip on the left".
func wanted(r *protocol.ImageRule) string {
	words := join([]string{protocol.ModeTitle(r.Mode), noun(r)}, " ")
	article := "a "
	if strings.ContainsAny(words[:1], "aeio") || r.Mode == protocol.ModeMMode {
		article = "an "
	}
	if r.Side != "" {
		words += " on the " + r.Side
	}
	return article + words
}
