package ingest

import (
	"reflect"
	"strings"
	"testing"
)

func TestReadLabels(t *testing.T) {
	rows, err := readLabels("ours.csv", strings.NewReader("\ufeffnote,Mode,view,path,sop_uid,exam\n"+
		`"baby's first, he said",2d,A4C,,1.2.3,Neo heart`+"\n"+
		",PW; 2d,SCT 399139001,a/IM1,,\n"+
		",,Lung upper anterior R,a/IM2,,\n"+
		"to be done,,,a/IM3,,\n"))
	if err != nil {
		t.Fatal(err)
	}
	want := []LabelRow{
		{Table: "ours.csv", Line: 2, SOPUID: "1.2.3", View: "apical-four-chamber", Modes: []string{"2d"}, Exam: "Neo heart", Note: "baby's first, he said"},
		{Table: "ours.csv", Line: 3, Path: "a/IM1", View: "parasternal-long-axis", Modes: []string{"2d", "pw"}},
		{Table: "ours.csv", Line: 4, Path: "a/IM2", View: "lung-upper-anterior", Side: "right"},
		{Table: "ours.csv", Line: 5, Path: "a/IM3", Note: "to be done"},
	}
	if !reflect.DeepEqual(rows, want) {
		t.Errorf("got  %+v\nwant %+v", rows, want)
	}
}

// TestReadLabelsRefuses wants each fault by row and column, with the nearest word,
// and nothing of what was found: it may name a patient.
func TestReadLabelsRefuses(t *testing.T) {
	const view = "expected a view by a word that `leadline protocols words` lists, such as apical-four-chamber or A4C"
	for _, c := range []struct{ table, want string }{
		{"sop_uid,view\n1.2,apical four chambr\n", "ours.csv: row 2, view: " + view + ", perhaps apical four chamber"},
		{"sop_uid,view\n1.2,Quastenflosser^Mira\n", "ours.csv: row 2, view: " + view},
		{"sop_uid,view\n1.2,A4C or so\n", "ours.csv: row 2, view: " + view},
		{"sop_uid,mode\n1.2,color\n", "ours.csv: row 2, mode: expected one of 2d m-mode cw pw colour colour-m-mode 3d power tissue, perhaps colour"},
		{"sop_uid,view\n,A4C\n", "ours.csv: row 2, sop_uid: expected the SOP Instance UID of the image, or its path in the column path"},
		{"sop_uid,view\nIM1,A4C\n", "ours.csv: row 2, sop_uid: expected a UID: at most 64 digits and dots"},
		{"view,mode\nA4C,2d\n", "ours.csv: row 1: expected a column sop_uid or path"},
		{"sop_uid,veiw\n1.2,A4C\n", "ours.csv: row 1, column 2: expected one of sop_uid path view mode exam note, perhaps view"},
		{"", "ours.csv: expected a header row: sop_uid, path, view, mode, exam, note"},
	} {
		rows, err := readLabels("ours.csv", strings.NewReader(c.table))
		if err == nil || err.Error() != c.want || rows != nil {
			t.Errorf("%q:\ngot  %v\nwant %s", c.table, err, c.want)
		}
	}
}

func FuzzLabels(f *testing.F) {
	f.Add("sop_uid,path,view,mode,note\n1.2,a/b,A4C,2d; pw,x\n")
	f.Add("path,view\na,SCT 399139001\nb,lung lateral links\n")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := readLabels("f.csv", strings.NewReader(text))
		if err != nil && rows != nil {
			t.Error("rows beside an error")
		}
		for _, r := range rows {
			if r.SOPUID == "" && r.Path == "" || r.Line < 2 || r.Side != "" && r.View == "" {
				t.Errorf("a row that says nothing of its image: %+v", r)
			}
		}
	})
}
