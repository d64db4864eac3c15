package measures

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"
)

func TestCatalogue(t *testing.T) {
	all := Builtin().All()
	if len(all) < 150 {
		t.Fatalf("%d measures; the catalogue is not there", len(all))
	}
	for _, m := range all {
		if !kebab.MatchString(m.ID) {
			t.Errorf("%s: the id is no kebab word", m.ID)
		}
		if m.Title == "" || m.Definition == "" || !strings.HasSuffix(m.Definition, ".") {
			t.Errorf("%s: title or definition missing, or the definition is no sentence", m.ID)
		}
		if !slices.Contains(unitsOf[m.Quantity], m.Unit) {
			t.Errorf("%s: unit %q does not fit quantity %q", m.ID, m.Unit, m.Quantity)
		}
		if !slices.Contains(planes, string(m.Plane)) {
			t.Errorf("%s: plane %q", m.ID, m.Plane)
		}
		if len(m.Labels) == 0 {
			t.Errorf("%s: no label", m.ID)
		}
	}
}

// Two measures must not claim one code under the same conditions, and every code
// with conditions must lead back to its own measure.
func TestCodesAreUnambiguous(t *testing.T) {
	owner := map[string]string{}
	for _, m := range Builtin().All() {
		for _, c := range m.Codes {
			sites := c.Site
			if len(sites) == 0 {
				sites = []string{""}
			}
			for _, site := range sites {
				with := append([]string(nil), c.With...)
				slices.Sort(with)
				key := strings.Join(append([]string{c.Concept.Scheme, c.Concept.Value, site}, with...), " ")
				if other, taken := owner[key]; taken {
					t.Errorf("%s belongs to %s and to %s", key, other, m.ID)
				}
				owner[key] = m.ID
				if got, ok := Builtin().Lookup(c.Concept, modifiers(append([]string{site}, with...)...), nil, ""); !ok || got.ID != m.ID {
					t.Errorf("%s leads to %q, want %s", key, got.ID, m.ID)
				}
			}
		}
	}
}

func TestLabelsLeadBack(t *testing.T) {
	for _, m := range Builtin().All() {
		for _, label := range m.Labels {
			if got, ok := Builtin().OfLabel(strings.ToUpper(label)); !ok || got.ID != m.ID {
				t.Errorf("label %q leads to %q, want %s", label, got.ID, m.ID)
			}
		}
	}
}

// Every code of the catalogue stands in the list of codes that were read in
// copies of the standard; where that list is absent the test says so.
func TestCodesWereRead(t *testing.T) {
	const path = "../../../shared/reference/dicom-ultrasound.md"
	text, err := os.ReadFile(path)
	if err != nil {
		t.Skip("the list of codes that were read is not here: " + path)
	}
	read := map[string]bool{}
	for _, line := range strings.Split(string(text), "\n") {
		cells := strings.Split(line, "|")
		if len(cells) < 4 || !strings.Contains(line, "[found") {
			continue
		}
		for i := 1; i+1 < len(cells); i++ {
			read[strings.TrimSpace(cells[i+1])+" "+strings.TrimSpace(cells[i])] = true
		}
	}
	for _, key := range ofDictionary {
		read[key] = true
	}
	for _, m := range Builtin().All() {
		for _, c := range m.Codes {
			keys := []string{c.Concept.Scheme + " " + c.Concept.Value}
			for _, v := range append(append([]string(nil), c.Site...), c.With...) {
				keys = append(keys, conditionKey(v))
			}
			for _, key := range keys {
				if !read[key] {
					t.Errorf("%s: code %s was not read anywhere", m.ID, key)
				}
			}
		}
	}
}

// ofDictionary are codes of PS3.16 (CID 12201 to 12300, and parts of the body) that were
// read in pydicom's copy of it alone; scripts/oracle/codes.py holds their meanings against
// that copy.
var ofDictionary = []string{
	"LN 79996-5", "LN 79998-1", "LN 79999-9", "LN 80001-1", "LN 80003-7", "LN 80004-5", "LN 80081-3", "LN 80082-1",
	"LN 18031-5", "LN 79925-4", "LN 18030-7", "LN 79923-9", "LN 79924-7", "LN 79926-2", "LN 79922-1", "LN 80051-6", "LN 80091-2", "SCT 35918002",
	"LN 79966-8", "LN 79987-4", "LN 80049-0", "LN 80079-7", "LN 18077-8", "LN 79994-0", "LN 18076-0", "LN 79989-0", "LN 80090-4", "LN 79929-6", "LN 18042-2", "LN 18041-4", "LN 79930-4", "LN 79909-8", "LN 80087-0", "LN 29460-3", "LN 18039-8",
}

// conditionKey is a condition of a code with its scheme.
func conditionKey(v string) string {
	if strings.Contains(v, " ") {
		return v
	}
	return "SCT " + v
}

// rowsOf reads a table, without its head.
func rowsOf(t *testing.T, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// testdata/codes.csv says what every code of the catalogue means, and no other: a
// mapping is judged by these words. scripts/oracle/codes.py holds the words against
// a dictionary; the few that it lacks were read in PS3.16.
func TestCodesHaveMeanings(t *testing.T) {
	meanings := map[string]string{}
	for _, row := range rowsOf(t, "testdata/codes.csv") {
		meanings[row[0]+" "+row[1]] = row[2]
	}
	used := map[string]bool{}
	for _, m := range Builtin().All() {
		for _, c := range m.Codes {
			used[c.Concept.Scheme+" "+c.Concept.Value] = true
			for _, v := range slices.Concat(c.Site, c.With) {
				used[conditionKey(v)] = true
			}
		}
	}
	for code := range used {
		if meanings[code] == "" {
			t.Errorf("%s has no meaning in testdata/codes.csv", code)
		}
	}
	if len(meanings) != len(used) {
		t.Errorf("%d meanings for %d codes", len(meanings), len(used))
	}
}

// Every SNOMED CT code of the catalogue is found by its old SRT code too.
func TestOldCodes(t *testing.T) {
	known := map[string]bool{}
	for _, row := range rowsOf(t, "../../ingest/terms/legacy.csv") {
		known["SCT "+row[1]] = true
	}
	for _, m := range Builtin().All() {
		for _, c := range m.Codes {
			keys := []string{c.Concept.Scheme + " " + c.Concept.Value}
			for _, v := range slices.Concat(c.Site, c.With) {
				keys = append(keys, conditionKey(v))
			}
			for _, key := range keys {
				if strings.HasPrefix(key, "SCT ") && !known[key] {
					t.Errorf("%s: %s has no old code in legacy.csv", m.ID, key)
				}
			}
		}
	}
}

func TestReadRefuses(t *testing.T) {
	const head = "measures:\n  - {id: a, title: A, definition: A., quantity: distance, unit: mm, plane: any, labels: [one]}\n"
	for name, data := range map[string]string{
		"a key it does not know": head + "extra: 1\n",
		"an id twice":            head + "  - {id: a, labels: [two]}\n",
		"a label of two":         head + "  - {id: b, labels: [ONE]}\n",
		"a code without scheme":  head + "  - {id: b, codes: [29436-3], labels: [two]}\n",
	} {
		if _, err := read([]byte(data)); err == nil {
			t.Errorf("read takes %s", name)
		}
	}
	if _, err := read([]byte(head)); err != nil {
		t.Errorf("the head alone: %v", err)
	}
}

// Labels that real devices printed on their pictures, and what they mean.
func TestPrintedLabels(t *testing.T) {
	const path = "../../../shared/data/caliper-readings.csv"
	f, err := os.Open(path)
	if err != nil {
		t.Skip("real readings are not here: " + path)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"Cist Mag": "cisterna-magna-depth", "Asc Ao Diam": "ascending-aorta-diameter", "Time A": "time"}
	met := 0
	for _, row := range rows[1:] {
		if id, known := want[row[1]]; known {
			met++
			if got, _ := Builtin().OfLabel(row[1]); got.ID != id {
				t.Errorf("%q leads to %q, want %s", row[1], got.ID, id)
			}
		}
	}
	if met == 0 {
		t.Error("none of the expected labels is in the table")
	}
}
