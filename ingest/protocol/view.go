package protocol

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"go.yaml.in/yaml/v3"

	"leadline/ingest/dcm"
	"leadline/ingest/terms"
)

//go:embed views.yaml
var viewsYAML []byte

// View is one view of the vocabulary. Codes are written "SCHEME value".
type View struct {
	ID string
	// Within is the wider view that this one also counts as, or empty.
	Within string
	// Area is what lies in the beam: heart, head, lung, abdomen, or empty.
	Area  string
	Codes []string
	Names []string
}

type vocabulary struct {
	Views []View
	// Extra are words in a view name that do not tell the view.
	Extra []string

	byCode map[dcm.Code]int
	byName map[string]int
	byID   map[string]int
	extra  map[string]bool
}

// views is read once; a vocabulary that cannot be read is a fault of the program,
// which its tests find.
var views = sync.OnceValue(func() *vocabulary {
	v, err := readViews(viewsYAML)
	if err != nil {
		panic("reading the embedded views: " + err.Error())
	}
	return v
})

func readViews(data []byte) (*vocabulary, error) {
	v := &vocabulary{byCode: map[dcm.Code]int{}, byName: map[string]int{}, byID: map[string]int{}, extra: map[string]bool{}}
	if err := yaml.Unmarshal(data, v); err != nil {
		return nil, err
	}
	for i, view := range v.Views {
		v.byID[view.ID] = i
		for _, c := range view.Codes {
			scheme, value, _ := strings.Cut(c, " ")
			code := dcm.Code{Value: value, Scheme: scheme}
			if other, taken := v.byCode[code]; taken {
				return nil, fmt.Errorf("code %s belongs to %s and to %s", c, v.Views[other].ID, view.ID)
			}
			v.byCode[code] = i
		}
		for _, name := range append([]string{view.ID}, view.Names...) {
			normal := terms.Normal(name)
			if other, taken := v.byName[normal]; taken && other != i {
				return nil, fmt.Errorf("name %q belongs to %s and to %s", name, v.Views[other].ID, view.ID)
			}
			v.byName[normal] = i
		}
	}
	for _, w := range v.Extra {
		v.extra[terms.Normal(w)] = true
	}
	return v, nil
}

// Views are the views of the vocabulary in its order; they are not to be changed.
func Views() []View { return slices.Clone(views().Views) }

// ViewIDs are the ids of all views in the order of the vocabulary.
func ViewIDs() []string {
	ids := make([]string, len(views().Views))
	for i, v := range views().Views {
		ids[i] = v.ID
	}
	return ids
}

// ViewTitle is what people call a view: the first of its names. What is no id of a view
// stays as it is.
func ViewTitle(id string) string {
	if i, ok := views().byID[id]; ok {
		return views().Views[i].Names[0]
	}
	return id
}

// AreaOf is what lies in the beam of a view, empty where it may be several or there is
// no such view.
func AreaOf(id string) string {
	if i, ok := views().byID[id]; ok {
		return views().Views[i].Area
	}
	return ""
}

// ViewWords are all ids and names of views, for the nearest to a misspelt one.
func ViewWords() []string {
	words := ViewIDs()
	for _, v := range views().Views {
		words = append(words, v.Names...)
	}
	return words
}

// ViewOf tells which view a picture shows, by its view code, else by its view
// name, and which side the name tells. The whole name must be known, or be known
// without words for mode and side and without numbers; else ok is false.
func ViewOf(code dcm.Code, name string) (v View, side string, ok bool) {
	all := views()
	code = terms.Current(code)
	words := strings.Fields(terms.Normal(name))
	if i, known := all.byCode[dcm.Code{Value: code.Value, Scheme: code.Scheme}]; known {
		_, side = all.strip(words)
		return all.Views[i], side, true
	}
	if i, known := all.byName[strings.Join(words, " ")]; known {
		return all.Views[i], "", true
	}
	rest, side := all.strip(words)
	if i, known := all.byName[strings.Join(rest, " ")]; known {
		return all.Views[i], side, true
	}
	return View{}, "", false
}

// keyOfName is the same for names of one view: its id where the vocabulary has the
// whole name, else the name itself as it is compared.
func keyOfName(name string) string {
	normal := terms.Normal(name)
	if i, known := views().byName[normal]; known {
		return views().Views[i].ID
	}
	return "name " + normal
}

// keyOfCode is the id of the view of a code, else the code itself.
func keyOfCode(c dcm.Code) string {
	c = terms.Current(c)
	if i, known := views().byCode[dcm.Code{Value: c.Value, Scheme: c.Scheme}]; known {
		return views().Views[i].ID
	}
	return "code " + c.Scheme + " " + c.Value
}

// strip takes out the words that do not tell the view, and tells the side.
func (v *vocabulary) strip(words []string) (rest []string, side string) {
	for _, w := range words {
		s, isSide := terms.Side(w)
		switch {
		case isSide:
			side = s
		case v.extra[w] || strings.Trim(w, "0123456789") == "":
		default:
			rest = append(rest, w)
		}
	}
	return rest, side
}

// Narrower is the narrower of two views, one of which lies within the other or is
// it; an empty one is wider than any. ok is false where they are two views.
func Narrower(a, b string) (narrower string, ok bool) {
	switch {
	case a == "" || Counts(b, []string{a}):
		return b, true
	case b == "" || Counts(a, []string{b}):
		return a, true
	}
	return "", false
}

// MayCount tells whether a picture that is known by the wider view id only may show
// one of wanted, which lies within it.
func MayCount(id string, wanted []string) bool {
	return slices.ContainsFunc(wanted, func(w string) bool { return Counts(w, []string{id}) })
}

// Counts tells whether a picture of view id counts as one of wanted: it is one of
// them, or lies within one.
func Counts(id string, wanted []string) bool {
	for id != "" {
		if slices.Contains(wanted, id) {
			return true
		}
		i, ok := views().byID[id]
		if !ok {
			return false
		}
		id = views().Views[i].Within
	}
	return false
}
