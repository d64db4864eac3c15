package completeness

import (
	"fmt"
	"slices"

	"leadline/analyse"
	"leadline/ingest/protocol"
)

// answer is what a file says to a question.
type answer int

const (
	no answer = iota
	unknown
	yes
)

func answerOf(ok bool) answer {
	if ok {
		return yes
	}
	return no
}

// images asks for pictures of a view. An image counts where view, mode, kind, side
// and how it was taken all fit. One that does not say its view (or mode, or length)
// but fits in all else may be what was asked for: then the item is not assessable,
// never missing. A picture of the view that was only taken otherwise, as too short,
// makes the item partial.
func (v *view) images(r *protocol.ImageRule) outcome {
	o := outcome{needed: r.Count}
	var n imageNote
	for i := range v.pictures {
		img := &v.pictures[i]
		shows, kind := img.shows(r), img.ofKind(r)
		taken, miss := img.taken(r)
		switch least := min(shows, kind, taken); {
		case least == yes:
			o.found++
			o.evidence = append(o.evidence, img.called())
		case least == unknown:
			n.open(img, img.unsaid(r))
		case shows == yes && kind == yes:
			miss.why = img.called() + " " + miss.why
			n.short = append(n.short, miss)
		case shows == yes:
			n.other = append(n.other, fmt.Sprintf("%s shows the view as %s", img.called(), img.describe()))
		case img.onOtherSide(r) && kind == yes && taken == yes:
			n.other = append(n.other, fmt.Sprintf("%s shows the view on the %s", img.called(), img.side))
		}
	}
	o.status = enough(o.found, r.Count)
	switch {
	case o.status == analyse.Met:
		return o
	case n.possible > 0 && (o.found == 0 || o.found+n.possible >= r.Count):
		o.status = analyse.NotAssessable
	case o.found == 0 && len(n.short) > 0:
		o.status = analyse.Partial
	}
	o.note = n.text(r, o.found, len(v.pictures))
	return o
}

// showsView tells whether the view is one asked for. A picture that names only a
// wider view, as coronal, does not say which of its planes it shows.
func (p *picture) showsView(s *protocol.Shown) answer {
	switch {
	case p.namedBy(s) || protocol.Counts(p.ViewID, s.Views):
		return yes
	case p.ViewID == "" && !p.claimed || protocol.MayCount(p.ViewID, s.Views):
		return unknown
	}
	return no
}

// shows tells whether the view and the side are those asked for.
func (p *picture) shows(r *protocol.ImageRule) answer {
	view := p.showsView(&r.Shown)
	if r.Side == "" {
		return view
	}
	if p.side == "" {
		return min(view, unknown)
	}
	return min(view, answerOf(p.side == r.Side))
}

// ofKind tells whether mode and kind of image are those asked for.
func (p *picture) ofKind(r *protocol.ImageRule) answer {
	if r.Type != "" && string(p.Kind) != r.Type {
		return no
	}
	switch {
	case r.Mode == "":
		return yes
	case len(p.Modes) == 0:
		return unknown
	}
	return answerOf(modeFits(p.Modes, r.Mode))
}

// modeFits tells whether the modes of an image are the one asked for
// (protocol.Modes).
func modeFits(modes []string, wanted string) bool {
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(modes, w) })
	}
	switch wanted {
	case protocol.Mode2D:
		return len(modes) == 1 && has("2d")
	case protocol.ModeMMode:
		return has("m-mode", "colour-m-mode")
	case protocol.ModeColour:
		return has("colour", "power") && !has("pw", "cw", "m-mode", "colour-m-mode")
	case protocol.ModeSpectral:
		return has("pw", "cw")
	}
	return has(wanted)
}

// onOtherSide tells an image of the view whose side is not the one asked for.
func (p *picture) onOtherSide(r *protocol.ImageRule) bool {
	if r.Side == "" || p.side == "" || p.side == r.Side {
		return false
	}
	either := *r
	either.Side = ""
	return p.shows(&either) == yes
}

// describe says kind and modes, e.g. "a still, 2D, colour and pulsed wave".
func (p *picture) describe() string {
	if len(p.Modes) == 0 {
		return "a " + string(p.Kind) + " of unknown mode"
	}
	modes := make([]string, len(p.Modes))
	for i, mode := range p.Modes {
		modes[i] = protocol.ModeTitle(mode)
	}
	return fmt.Sprintf("a %s, %s", p.Kind, list(modes, "and"))
}

// decimal writes a number with at most two decimals.
func decimal(x float64) string {
	return fmt.Sprintf("%.4g", float64(int64(x*100+0.5))/100)
}
