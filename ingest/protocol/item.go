package protocol

import (
	"fmt"
	"slices"

	"go.yaml.in/yaml/v3"
)

// Keys of an item around its rule, and of each kind of rule.
var (
	itemKeys = []string{"id", "title", "need", "severity", "if", "sources", "note", "alternative"}
	ruleKeys = map[Kind][]string{
		KindHeader:  {"fact", "min", "max"},
		KindImage:   {"view", "view-names", "view-codes", "mode", "type", "side", "count", "min-seconds", "min-frames", "min-frame-rate", "min-depth-mm", "max-depth-mm", "calibrated"},
		KindMeasure: {"measure", "side", "count", "plane", "in-report", "with-caliper", "calibrated"},
		KindIndex:   {"index"},
		KindReport:  {"state", "within-hours"},
	}
	conditionKeys = []string{"measure", "view", "view-names", "view-codes", "fact"}
	// clipKeys are the keys of an image that only a clip can meet.
	clipKeys = []string{"min-seconds", "min-frames", "min-frame-rate"}
)

// Bounds of counts and lengths; beyond them a number is a slip.
const (
	maxCount  = 1000
	maxFrames = 1000000
	maxSecond = 3600
	maxHours  = 24 * 366

	maxFrameRate = 10000
	maxDepthMM   = 500
)

func (r *reader) items(n *yaml.Node, origins []origin) []Item {
	if n.Kind != yaml.SequenceNode || len(n.Content) == 0 {
		r.expect(n, "a list of one or more items")
		return nil
	}
	var out []Item
	lines := map[string]int{}
	for _, child := range n.Content {
		it := r.item(child, origins)
		if line, twice := lines[it.ID]; twice && it.ID != "" {
			r.fail(&FileError{Line: child.Line, Column: child.Column, Expected: "each item id once",
				Found: fmt.Sprintf("%q again (first on line %d)", it.ID, line)})
		}
		lines[it.ID] = child.Line
		out = append(out, it)
	}
	return out
}

func (r *reader) item(n *yaml.Node, origins []origin) Item {
	kind, keys := r.kindOf(n), append(slices.Clone(itemKeys), "kind", "any-of")
	what := "an item of kind " + string(kind)
	if kind == "" {
		what = "an item"
		// Without a kind it is not known which keys belong; all do, so that one
		// fault is not told many times.
		for _, k := range kinds {
			keys = append(keys, ruleKeys[Kind(k)]...)
		}
	}
	f := r.fieldsOf(n, what, append(keys, ruleKeys[kind]...)...)
	if f == nil {
		return Item{}
	}
	it := f.item(origins)
	if _, given := f.byKey["sources"]; len(it.Sources) == 0 && (!given || len(f.list("sources")) == 0) {
		r.fail(&FileError{Line: n.Line, Column: n.Column, Expected: "the key sources, with one or more of the sources above"})
	}
	if cond, ok := f.byKey["if"]; ok {
		it.If = r.condition(cond)
	}
	it.Rules = r.rules(f, kind)
	return it
}

// item reads the keys around the rule that stand for themselves.
func (f *fields) item(origins []origin) Item {
	return Item{
		ID:          f.id("id"),
		Title:       f.title("title"),
		Required:    f.word("need", needs, "required") != "preferred",
		Severity:    f.word("severity", Severities, ""),
		Sources:     textsOf(f.words("sources", idsOf(origins)), origins),
		Note:        f.remark("note"),
		Alternative: f.remark("alternative"),
	}
}

func idsOf(origins []origin) []string {
	ids := make([]string, len(origins))
	for i, o := range origins {
		ids[i] = o.id
	}
	return ids
}

func textsOf(ids []string, origins []origin) []string {
	var texts []string
	for _, o := range origins {
		if slices.Contains(ids, o.id) {
			texts = append(texts, o.text)
		}
	}
	return texts
}

// kindOf reads the kind of an item or rule ahead of its other keys, and says
// nothing: rules does.
func (r *reader) kindOf(n *yaml.Node) Kind {
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == "kind" && slices.Contains(kinds, n.Content[i+1].Value) {
			return Kind(n.Content[i+1].Value)
		}
	}
	return ""
}

func (r *reader) rules(f *fields, kind Kind) []Rule {
	group, grouped := f.byKey["any-of"]
	_, single := f.byKey["kind"]
	switch {
	case grouped && single:
		r.expect(group, "either kind or any-of, not both (each entry of any-of has a kind of its own)")
	case grouped:
		return r.group(group)
	case !single:
		r.fail(&FileError{Line: f.node.Line, Column: f.node.Column, Expected: "the key kind, or any-of with a list"})
	case f.word("kind", kinds, "") != "":
		return []Rule{r.rule(f, kind)}
	}
	return nil
}

// group reads the list of an any-of: two rules or more.
func (r *reader) group(n *yaml.Node) []Rule {
	if n.Kind != yaml.SequenceNode || len(n.Content) < 2 {
		r.expect(n, "a list of two or more for any-of")
		return nil
	}
	var out []Rule
	for _, child := range n.Content {
		kind := r.kindOf(child)
		var keys []string
		if kind != "" {
			keys = append([]string{"kind"}, ruleKeys[kind]...)
		}
		f := r.fieldsOf(child, "an entry of any-of", keys...)
		if f == nil || f.need("kind") == nil || f.word("kind", kinds, "") == "" {
			continue
		}
		out = append(out, r.rule(f, kind))
	}
	return out
}

func (r *reader) condition(n *yaml.Node) *Condition {
	f := r.fieldsOf(n, "if", conditionKeys...)
	if f == nil {
		return nil
	}
	c := f.condition()
	if len(n.Content) == 0 { // else an unknown key was meant, and is told
		r.expect(n, "measure, view, view-names, view-codes or fact under if")
	}
	return c
}

// condition reads the parts of an if. An empty list would hold always, and so is a slip.
func (f *fields) condition() *Condition {
	c := &Condition{Measures: f.refs("measure", measures), Shown: f.shown("view"), Fact: f.word("fact", Facts, "")}
	f.filled("measure", "view", "view-names", "view-codes")
	return c
}

// shown reads the three ways to name what images show; view is the key of the first.
func (f *fields) shown(view string) Shown {
	return Shown{Views: f.words(view, ViewIDs()), ViewNames: f.names("view-names"), ViewCodes: f.codes("view-codes")}
}

// filled says that lists, where they are given, must not be empty.
func (f *fields) filled(keys ...string) {
	for _, key := range keys {
		f.shape.fill(key)
		if n, ok := f.byKey[key]; ok && n.Kind == yaml.SequenceNode && len(n.Content) == 0 {
			f.expect(n, "at least one entry for "+key)
		}
	}
}

func (r *reader) rule(f *fields, kind Kind) Rule {
	rule := Rule{Kind: kind}
	switch kind {
	case KindHeader:
		rule.Header = r.header(f)
	case KindImage:
		rule.Image = r.image(f)
	case KindMeasure:
		rule.Measure = &MeasureRule{
			Measures: f.refs("measure", measures), Side: f.word("side", sides, ""),
			Count: f.count("count", maxCount, 1), Plane: f.word("plane", Planes, ""),
			InReport: f.flag("in-report"), WithCaliper: f.flag("with-caliper"), Calibrated: f.flag("calibrated"),
		}
		r.some(f, "measure")
	case KindIndex:
		if refs := f.refs("index", indices); len(refs) == 1 {
			rule.Index = &refs[0]
		} else if r.some(f, "index") && len(refs) > 1 {
			r.expect(f.byKey["index"], "one index")
		}
	case KindReport:
		rule.Report = &ReportRule{State: f.word("state", States, StateAny), WithinHours: f.number("within-hours", 0.01, maxHours)}
	}
	return rule
}

// some says that a list must not be empty or missing, and whether it is neither.
func (r *reader) some(f *fields, key string) bool {
	f.shape.fill(key)
	n := f.need(key)
	if n != nil && n.Kind == yaml.SequenceNode && len(n.Content) == 0 {
		r.expect(n, "at least one entry for "+key)
		return false
	}
	return n != nil
}

func (r *reader) header(f *fields) *HeaderRule {
	f.need("fact")
	h := &HeaderRule{Fact: f.word("fact", Facts, ""), Min: f.number("min", 0, 1e9), Max: f.number("max", 0, 1e9)}
	for _, key := range []string{"min", "max"} {
		if n, ok := f.byKey[key]; ok && h.Fact != "" && numericFacts[h.Fact] == "" {
			r.expect(n, "no "+key+": "+h.Fact+" is no number")
		}
	}
	if h.Min.Set && h.Max.Set && h.Min.Value > h.Max.Value {
		r.expect(f.byKey["max"], fmt.Sprintf("max of at least min, %g", h.Min.Value))
	}
	return h
}

func (r *reader) image(f *fields) *ImageRule {
	im := &ImageRule{
		Shown: f.shown("view"), Mode: f.word("mode", Modes, ""), Type: f.word("type", types, ""),
		Side: f.word("side", sides, ""), Count: f.count("count", maxCount, 1),
		MinSeconds: f.number("min-seconds", 0.01, maxSecond), MinFrames: f.count("min-frames", maxFrames, 0),
		MinFrameRate: f.number("min-frame-rate", 1, maxFrameRate), Calibrated: f.flag("calibrated"),
		MinDepthMM: f.number("min-depth-mm", 1, maxDepthMM), MaxDepthMM: f.number("max-depth-mm", 1, maxDepthMM),
	}
	f.someView()
	if im.Type == "any" {
		im.Type = ""
	}
	for _, key := range clipKeys {
		if n, ok := f.byKey[key]; ok && im.Type != "clip" {
			r.expect(n, "type: clip beside "+key+"; only clips have a length and a rate")
		}
	}
	if im.MinDepthMM.Set && im.MaxDepthMM.Set && im.MinDepthMM.Value > im.MaxDepthMM.Value {
		r.expect(f.byKey["max-depth-mm"], fmt.Sprintf("max-depth-mm of at least min-depth-mm, %g", im.MinDepthMM.Value))
	}
	return im
}

// someView wants a view in one of the ways to name one.
func (f *fields) someView() {
	ways := []string{"view", "view-names", "view-codes"}
	f.shape.requireOne(ways...)
	f.filled(ways...)
	if !slices.ContainsFunc(ways, func(key string) bool { return f.byKey[key] != nil }) {
		f.fail(&FileError{Line: f.node.Line, Column: f.node.Column, Expected: "the key view, view-names or view-codes"})
	}
}
