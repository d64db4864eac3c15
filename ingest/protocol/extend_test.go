package protocol

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"leadline/ingest/dcm"
)

// folder writes files and returns their folder.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

const base = `language: 1
name: base
version: 1
title: Base
note: Of the hospital.
sources: {paper: Someone 2020, unit: policy of the hospital}
when: {body-parts: [HEART]}
uncertainty: {scale-tolerance-percent: 2}
items:
  - {id: weight, title: Weight, kind: header, fact: patient-weight, min: 0.2, max: 10, sources: paper, if: {view: subcostal}}
  - {id: clip, title: Clip, kind: image, view: subcostal, type: clip, min-seconds: 2, sources: paper}
  - {id: tapse, title: TAPSE, kind: measure, measure: tapse, sources: unit}
`

const over = `language: 1
name: ours
version: 2
title: Ours
extends: shared/base.yaml
sources: {unit: policy of the ward}
drop: [tapse]
items:
  - {id: clip, need: preferred, count: 2}
  - {id: weight, any-of: [{kind: header, fact: patient-weight}, {kind: header, fact: patient-size}]}
  - {id: operator, title: Operator, kind: header, fact: operator, sources: [unit, paper]}
`

func TestExtends(t *testing.T) {
	dir := folder(t, map[string]string{"shared/base.yaml": base, "ours.yaml": over})
	p, err := Load(filepath.Join(dir, "ours.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if p.Name != "ours" || p.Version != "2" || p.Title != "Ours" || p.Note != "Of the hospital." ||
		p.Extends == nil || p.Extends.Name != "base" || len(p.Extends.Items) != 3 {
		t.Errorf("head %+v", p)
	}
	if !reflect.DeepEqual(p.When.BodyParts, []string{"HEART"}) || p.Uncertainty.ScaleTolerancePercent != dcm.Some(2.0) {
		t.Errorf("when %+v, uncertainty %+v", p.When, p.Uncertainty)
	}
	want := []Item{
		{ID: "weight", Title: "Weight", Required: true, Sources: []string{"Someone 2020"}, If: &Condition{Shown: Shown{Views: []string{"subcostal"}}},
			Rules: []Rule{{Kind: KindHeader, Header: &HeaderRule{Fact: FactPatientWeight}}, {Kind: KindHeader, Header: &HeaderRule{Fact: FactPatientSize}}}},
		{ID: "clip", Title: "Clip", Sources: []string{"Someone 2020"},
			Rules: []Rule{{Kind: KindImage, Image: &ImageRule{Shown: Shown{Views: []string{"subcostal"}}, Type: "clip", Count: 2, MinSeconds: dcm.Some(2.0)}}}},
		{ID: "operator", Title: "Operator", Required: true, Sources: []string{"Someone 2020", "policy of the ward"},
			Rules: []Rule{{Kind: KindHeader, Header: &HeaderRule{Fact: FactOperator}}}},
	}
	if !reflect.DeepEqual(p.Items, want) {
		t.Errorf("items\ngot  %+v\nwant %+v", p.Items, want)
	}
}

// The text of a protocol that extends another stands alone and reads as the same
// protocol.
func TestTextStandsAlone(t *testing.T) {
	dir := folder(t, map[string]string{"shared/base.yaml": base, "ours.yaml": over,
		"heart.yaml": "language: 1\nname: heart\nversion: 1\ntitle: Heart\nextends: newborn-heart-function\ndrop: [operator]\n"})
	for _, name := range append(Builtins(), filepath.Join(dir, "ours.yaml"), filepath.Join(dir, "heart.yaml")) {
		p, err := Load(name)
		if err != nil {
			t.Fatal(err)
		}
		text, err := Text(name)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Parse(name, text)
		if err != nil {
			t.Errorf("%s: what is printed does not read: %v\n%s", name, err, text)
			continue
		}
		if again.Extends != nil {
			t.Errorf("%s: what is printed extends %s", name, again.Extends.Name)
		}
		again.Extends = p.Extends
		forget(p)
		forget(again)
		if !reflect.DeepEqual(p, again) {
			t.Errorf("%s: printed it reads as\n%+v\ninstead of\n%+v", name, again, p)
		}
	}
}

// An item that is dropped and given again is a new one.
func TestDropAndGive(t *testing.T) {
	dir := folder(t, map[string]string{"shared/base.yaml": base, "ours.yaml": strings.Replace(over, "id: operator,", "id: tapse,", 1)})
	p, err := Load(filepath.Join(dir, "ours.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if last := p.Items[len(p.Items)-1]; len(p.Items) != 3 || last.ID != "tapse" || last.Title != "Operator" {
		t.Errorf("items %+v", p.Items)
	}
}

func TestExtendsRefused(t *testing.T) {
	const head = "language: 1\nname: ours\nversion: 1\ntitle: Ours\n"
	for _, c := range []struct{ name, text, want string }{
		{"unknown built-in", head + "extends: newborn-hart-function\n",
			`ours.yaml:5:10: expected a built-in protocol, or a file beside this one, found "newborn-hart-function"; the nearest word is "newborn-heart-function"`},
		{"unknown file", head + "extends: baze.yaml\n",
			`ours.yaml:5:10: expected a built-in protocol, or a file beside this one, found "baze.yaml"; the nearest word is "base.yaml"`},
		{"a folder", head + "extends: shared\n",
			`ours.yaml:5:10: expected a built-in protocol, or a file beside this one, found "shared", a folder or a device`},
		{"a list", head + "extends: [base.yaml]\n",
			`ours.yaml:5:10: expected a built-in protocol, or a file beside this one, found a list`},
		{"itself", head + "extends: ./ours.yaml\n",
			`ours.yaml:5:10: expected a protocol that does not extend this one in turn, found "./ours.yaml" (ours.yaml extends ours.yaml)`},
		{"in a ring", head + "extends: back.yaml\n",
			`back.yaml:5:10: expected a protocol that does not extend this one in turn, found "shared/../ours.yaml" (ours.yaml extends back.yaml extends ours.yaml)`},
		{"a fault below", head + "extends: faulty.yaml\n",
			`faulty.yaml:2:7: expected name of lower-case letters, digits and hyphens, found "No Name"`},
		{"drop of nothing", head + "extends: base.yaml\ndrop: [tapsee]\n",
			`ours.yaml:6:8: expected a word for drop: weight, clip, tapse, found "tapsee"; the nearest word is "tapse"`},
		{"drop without extends", head + "drop: [tapse]\nsources: {unit: policy}\nwhen: {body-parts: HEART}\nitems:\n  - {id: a, title: A, sources: unit, kind: report}\n",
			`ours.yaml:5:7: expected extends beside drop, which drops items of another protocol, found a list`},
		{"all dropped", head + "extends: base.yaml\ndrop: [weight, clip, tapse]\n",
			`ours.yaml:5:10: expected a list of one or more items, found a list`},
		{"no name of its own", "language: 1\nversion: 1\ntitle: Ours\nextends: base.yaml\n",
			`ours.yaml:1:1: expected the key name`},
		{"a clash of both", head + "extends: base.yaml\nitems:\n  - {id: weight, fact: operator}\n",
			"ours.yaml:7:5: expected no min: operator is no number, found \"0.2\"\nours.yaml:7:5: expected no max: operator is no number, found \"10\""},
		{"changed twice", head + "extends: base.yaml\nitems:\n  - {id: clip, count: 2}\n  - {id: clip, title: Clips, sources: unit, kind: report}\n",
			`ours.yaml:8:5: expected each item id once, found "clip" again (first on line 7)`},
		{"a key twice", head + "extends: base.yaml\nitems:\n  - {id: clip, count: 2, count: 3}\n",
			`ours.yaml:7:26: expected each key once, found "count" again (first on line 7)`},
		{"a new item half given", head + "extends: base.yaml\nitems:\n  - {id: clips, count: 2}\n",
			"ours.yaml:7:5: expected the key title\nours.yaml:7:5: expected the key sources, with one or more of the sources above\nours.yaml:7:5: expected the key kind, or any-of with a list"},
		{"unknown key", head + "extends: base.yaml\nitem: []\n",
			`ours.yaml:6:1: expected a key of a protocol, found "item"; the nearest word is "items"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := folder(t, map[string]string{
				"base.yaml": base, "ours.yaml": c.text, "shared/x.txt": "",
				"back.yaml":   "language: 1\nname: back\nversion: 1\ntitle: B\nextends: shared/../ours.yaml\n",
				"faulty.yaml": strings.Replace(base, "name: base", "name: No Name", 1),
			})
			p, err := Load(filepath.Join(dir, "ours.yaml"))
			if err == nil || p != nil {
				t.Fatal("Load takes it")
			}
			if got := strings.ReplaceAll(err.Error(), dir+string(filepath.Separator), ""); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
			var fault *FileError
			if !errors.As(err, &fault) || fault.Line == 0 {
				t.Errorf("no place: %v", err)
			}
		})
	}
}

// A long line of protocols, each over the next, ends with an error.
func TestExtendsTooOften(t *testing.T) {
	files := map[string]string{}
	names := "abcdefghijkl"
	for i := range names[1:] {
		files[names[i:i+1]+".yaml"] = "language: 1\nname: x\nversion: 1\ntitle: X\nextends: " + names[i+1:i+2] + ".yaml\n"
	}
	files["l.yaml"] = base
	dir := folder(t, files)
	if _, err := Load(filepath.Join(dir, "c.yaml")); err != nil {
		t.Errorf("ten are refused: %v", err)
	}
	if _, err := Load(filepath.Join(dir, "b.yaml")); err == nil || !strings.Contains(err.Error(), `k.yaml:5:10: expected at most 10 protocols one above the other, found "l.yaml"`) {
		t.Errorf("eleven: %v", err)
	}
}
