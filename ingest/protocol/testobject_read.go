package protocol

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"time"

	"go.yaml.in/yaml/v3"

	"leadline/ingest/dcm"
	"leadline/ingest/terms"
)

// aTestObject is what errors call the file.
const aTestObject = "a test object"

var testObjectKeys = []string{"language", "name", "title", "note", "scans", "material", "interval-months", "baseline", "targets"}

// LoadTestObject reads the file of a test object. Everything wrong with it is in
// the error, each as a *FileError, joined.
func LoadTestObject(name string) (*TestObject, error) {
	info, err := os.Stat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &FileError{File: name, Expected: "a file with " + aTestObject, Found: "no such file"}
	}
	data, err := contents(name, info, err, aTestObject)
	if err != nil {
		return nil, err
	}
	return ParseTestObject(name, data)
}

// ParseTestObject reads a test object from the bytes of a file as Parse reads a
// protocol: nil and a *FileError for each fault where anything is wrong.
func ParseTestObject(file string, data []byte) (*TestObject, error) {
	r := &reader{file: file, what: aTestObject}
	o := &TestObject{File: file}
	if root := r.tree(data); root != nil {
		r.testObject(root, o)
	}
	if err := r.err(); err != nil {
		return nil, err
	}
	return o, nil
}

func (r *reader) testObject(n *yaml.Node, o *TestObject) {
	f := r.fieldsOf(n, aTestObject, testObjectKeys...)
	if f == nil {
		return
	}
	f.language()
	o.Name, o.Title, o.Note = f.id("name"), f.title("title"), f.remark("note")
	if v := f.need("scans"); v != nil {
		o.Scans = r.scans(v)
	}
	if v := f.need("material"); v != nil {
		o.Material = r.material(v)
	}
	if n := f.count("interval-months", 120, 0); n > 0 {
		o.IntervalMonths = dcm.Some(n)
	}
	for _, v := range f.entries("baseline") {
		o.Baselines = append(o.Baselines, r.baseline(v))
	}
	if v := f.need("targets"); v != nil {
		o.Targets = r.targets(v)
	}
}

// entries are the mappings of a list, or one mapping that stands alone.
func (f *fields) entries(key string) []*yaml.Node {
	n, ok := f.byKey[key]
	if ok && n.Kind == yaml.MappingNode {
		return []*yaml.Node{n}
	}
	return f.list(key)
}

// The temperatures in °C at which water-based and rubber test objects are of use.
const coldest, warmest = 0, 60

func (r *reader) scans(n *yaml.Node) Scans {
	f := r.fieldsOf(n, "scans", "words", "patient-ids", "studies", "temperature", "temperatures")
	if f == nil {
		return Scans{}
	}
	s := Scans{
		Words: f.texts("words"), PatientIDs: f.texts("patient-ids"), Studies: f.uids("studies"),
		Temperature: f.number("temperature", coldest, warmest),
	}
	if len(s.Words)+len(s.PatientIDs)+len(s.Studies) == 0 && len(f.byKey)*2 == len(n.Content) { // else an unknown key was meant, and is told
		r.expect(n, "at least one entry of words, patient-ids or studies under scans; without any no study is taken for a scan of the test object")
	}
	if v, ok := f.byKey["temperatures"]; ok {
		s.Temperatures = r.temperatures(v)
	}
	return s
}

var uidText = regexp.MustCompile(`^[0-9.]{1,64}$`)

func (f *fields) uids(key string) []string {
	var out []string
	for _, n := range f.list(key) {
		if n.Kind != yaml.ScalarNode || !uidText.MatchString(n.Value) {
			f.expect(n, "a Study Instance UID of at most 64 digits and dots")
			continue
		}
		out = append(out, n.Value)
	}
	return out
}

func (r *reader) temperatures(n *yaml.Node) map[time.Time]float64 {
	f := r.fieldsOf(n, "temperatures, as in 2026-03-02: 21.5")
	if f == nil {
		return nil
	}
	out := map[time.Time]float64{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		day, ok := r.day(n.Content[i])
		if t := f.number(n.Content[i].Value, coldest, warmest); ok && t.Set {
			out[day] = t.Value
		}
	}
	return out
}

func (r *reader) day(n *yaml.Node) (time.Time, bool) {
	day, err := time.Parse(time.DateOnly, n.Value)
	if n.Kind != yaml.ScalarNode || err != nil {
		r.expect(n, "a day as YYYY-MM-DD")
		return time.Time{}, false
	}
	return day, true
}

// The speeds of sound, in m/s, between which materials of test objects and the
// assumption of scanners lie; outside, a unit was mistaken.
const slowest, fastest = 1000, 2500

func (r *reader) material(n *yaml.Node) Material {
	f := r.fieldsOf(n, "material", "speed", "speed-uncertainty", "at-degrees", "per-degree", "assumed-speed", "source")
	if f == nil {
		return Material{}
	}
	f.need("speed")
	m := Material{
		SpeedMS: f.number("speed", slowest, fastest).Value, U: f.number("speed-uncertainty", 0, 100).Value,
		AtDegrees: f.number("at-degrees", coldest, warmest), PerDegree: f.number("per-degree", -20, 20),
		AssumedMS: AssumedSpeedMS, Source: f.text("source"),
	}
	if assumed := f.number("assumed-speed", slowest, fastest); assumed.Set {
		m.AssumedMS = assumed.Value
	}
	if m.PerDegree.Set && !m.AtDegrees.Set {
		f.expect(f.byKey["per-degree"], "at-degrees beside per-degree, the temperature at which speed holds")
	}
	return m
}

func (r *reader) baseline(n *yaml.Node) Baseline {
	f := r.fieldsOf(n, "baseline", "from", "to", "devices")
	if f == nil {
		return Baseline{}
	}
	b := Baseline{Devices: f.texts("devices")}
	if v := f.need("from"); v != nil {
		b.From, _ = r.day(v)
	}
	if v := f.need("to"); v != nil {
		b.To, _ = r.day(v)
		if b.To.Before(b.From) {
			r.expect(v, "a day not before from, "+b.From.Format(time.DateOnly))
		}
	}
	return b
}

func (r *reader) targets(n *yaml.Node) []Target {
	if n.Kind != yaml.SequenceNode || len(n.Content) == 0 || len(n.Content) > maxList {
		r.expect(n, fmt.Sprintf("a list of targets, 1 to %d", maxList))
		return nil
	}
	var out []Target
	for _, v := range n.Content {
		f := r.fieldsOf(v, "a target", "id", "title", "direction", "distance", "uncertainty", "tolerance-mm", "tolerance-percent", "tolerance-source", "measures", "labels")
		if f == nil {
			continue
		}
		t := f.target()
		if slices.ContainsFunc(out, func(o Target) bool { return o.ID == t.ID && t.ID != "" }) {
			r.expect(f.byKey["id"], "an id that no other target has")
		}
		f.apart(out)
		out = append(out, t)
	}
	return out
}

// apart wants no label and no measure of a target to be that of an earlier one: a
// measurement is of one target.
func (f *fields) apart(others []Target) {
	for _, n := range f.list("labels") {
		if slices.ContainsFunc(others, func(o Target) bool {
			return slices.ContainsFunc(o.Labels, func(l string) bool { return terms.Normal(l) == terms.Normal(n.Value) })
		}) {
			f.expect(n, "a label that no other target has")
		}
	}
	for _, n := range f.list("measures") {
		if slices.ContainsFunc(others, func(o Target) bool {
			return slices.ContainsFunc(o.Measures, func(m Ref) bool { return m.ID == n.Value })
		}) {
			f.expect(n, "a measure that no other target has")
		}
	}
}

// longest is the largest distance in mm: no field of view is wider.
const longest = 500

func (f *fields) target() Target {
	f.need("direction")
	f.need("distance")
	t := Target{
		ID: f.id("id"), Title: f.title("title"),
		Direction:  Direction(f.word("direction", []string{string(Axial), string(Lateral)}, "")),
		DistanceMM: f.number("distance", 0.1, longest).Value, U: f.number("uncertainty", 0, longest).Value,
		Measures: f.refs("measures", measures), Labels: f.texts("labels"),
	}
	t.Tolerance = f.tolerance(t.Direction)
	_, hasMeasures := f.byKey["measures"]
	_, hasLabels := f.byKey["labels"]
	if !hasMeasures && !hasLabels {
		f.expect(f.node, "measures or labels, by which measurements of the target are known")
	}
	return t
}

func (f *fields) tolerance(d Direction) Tolerance {
	mm, percent := f.number("tolerance-mm", 0, longest), f.number("tolerance-percent", 0, 100)
	source := f.remark("tolerance-source")
	if !mm.Set && !percent.Set {
		if source != "" {
			f.expect(f.byKey["tolerance-source"], "tolerance-mm or tolerance-percent beside tolerance-source")
		}
		return tolerances[d]
	}
	if mm.Value == 0 && percent.Value == 0 {
		f.expect(f.node, "a tolerance above 0 in mm or per cent")
	}
	if source == "" {
		source = "stated in the file of the test object"
	}
	return Tolerance{mm.Value, percent.Value, source}
}
