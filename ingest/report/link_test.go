package report

import (
	"strings"
	"testing"

	"leadline/ingest/dcm"
)

// TestLink holds the rule written at (*reader).link: want is the graphics of each
// number in the order of the tree.
func TestLink(t *testing.T) {
	img := func(uid string) dcm.Dataset { return image("SELECTED FROM", uid) }
	path := []float64{10.5, 20.5, 30.5, 20.5}
	tests := []struct {
		name string
		root dcm.Dataset
		want []string
	}{
		{"own by value", root(group("", number(lengthConcept, "2.0", line("INFERRED FROM", path...)))),
			[]string{"own:POLYLINE[10.5,20.5 30.5,20.5]@1.2"}},
		{"own by contains and below a text", root(group("", number(lengthConcept, "2.0", text("INFERRED FROM", "", "how", line("HAS PROPERTIES", path...))))),
			[]string{"own:POLYLINE[10.5,20.5 30.5,20.5]@1.2"}},
		{"own by reference", root(group("", line("CONTAINS", path...)), group("", number(lengthConcept, "2.0", reference("INFERRED FROM", 1, 1, 1)))),
			[]string{"own:POLYLINE[10.5,20.5 30.5,20.5]@1.2"}},
		{"a graphic that two numbers refer to", root(group("", line("CONTAINS", path...), number(lengthConcept, "2.0", reference("INFERRED FROM", 1, 1, 1)), number(lengthConcept, "3.0", reference("INFERRED FROM", 1, 1, 1)))),
			[]string{"own:POLYLINE[10.5,20.5 30.5,20.5]@1.2", "own:POLYLINE[10.5,20.5 30.5,20.5]@1.2"}},
		{"a number under a number keeps its graphic", root(group("", number(lengthConcept, "2.0", numberAs("INFERRED FROM", lengthConcept, "1.0", "cm", line("INFERRED FROM", path...))))),
			[]string{"", "own:POLYLINE[10.5,20.5 30.5,20.5]@1.2"}},
		{"path vertices are one line", root(group("", number(lengthConcept, "2.0",
			scoord("INFERRED FROM", vertexConcept, "POINT", []float64{1, 2}, img("1.2")),
			scoord("INFERRED FROM", vertexConcept, "POINT", []float64{3, 4}, img("1.2"))))),
			[]string{"own:POLYLINE[1,2 3,4]@1.2"}},
		{"points without purpose are one polyline, in order", root(group("", number(lengthConcept, "2.0",
			scoord("INFERRED FROM", "", "POINT", []float64{1, 2}, img("1.2")),
			scoord("INFERRED FROM", "", "POINT", []float64{5, 6}, img("1.2")),
			scoord("INFERRED FROM", "", "POINT", []float64{3, 4}, img("1.2"))))),
			[]string{"own:POLYLINE[1,2 5,6 3,4]@1.2"}},
		{"points by reference are one line", root(group("",
			scoord("CONTAINS", "", "POINT", []float64{1, 2}, img("1.2")), scoord("CONTAINS", "", "POINT", []float64{3, 4}, img("1.2"))),
			group("", number(lengthConcept, "2.0", reference("INFERRED FROM", 1, 1, 1), reference("INFERRED FROM", 1, 1, 2)))),
			[]string{"own:POLYLINE[1,2 3,4]@1.2"}},
		{"points on two images stay apart", root(group("", number(lengthConcept, "2.0",
			scoord("INFERRED FROM", "", "POINT", []float64{1, 2}, img("1.2")), scoord("INFERRED FROM", "", "POINT", []float64{3, 4}, img("1.3"))))),
			[]string{"own:POINT[1,2]@1.2; own:POINT[3,4]@1.3"}},
		{"the region of a group describes all its numbers", root(group(groupConcept, line("CONTAINS", path...), number(lengthConcept, "2.0"), number(lengthConcept, "3.0"))),
			[]string{"group:POLYLINE[10.5,20.5 30.5,20.5]@1.2", "group:POLYLINE[10.5,20.5 30.5,20.5]@1.2"}},
		{"vertices in a group are one region", root(group(groupConcept,
			scoord("CONTAINS", vertexConcept, "POINT", []float64{1, 2}, img("1.2")), scoord("CONTAINS", vertexConcept, "POINT", []float64{3, 4}, img("1.2")), number(lengthConcept, "2.0"))),
			[]string{"group:POLYLINE[1,2 3,4]@1.2"}},
		{"of two regions none is taken", root(group(groupConcept, line("CONTAINS", path...), line("CONTAINS", 1, 1, 2, 2), number(lengthConcept, "2.0"))),
			[]string{""}},
		{"a region that a number refers to is not the group's", root(group(groupConcept, line("CONTAINS", path...), number(lengthConcept, "2.0", reference("INFERRED FROM", 1, 1, 1)), number(lengthConcept, "3.0"))),
			[]string{"own:POLYLINE[10.5,20.5 30.5,20.5]@1.2", ""}},
		{"number and graphic in containers of their own", root(group("", group("", number(lengthConcept, "2.0")), group("", text("CONTAINS", "", "shape", line("HAS PROPERTIES", path...)))), group("", number(lengthConcept, "9"), number(lengthConcept, "8"))),
			[]string{"container:POLYLINE[10.5,20.5 30.5,20.5]@1.2", "", ""}},
		{"two graphics end the climb", root(group("", group("", number(lengthConcept, "2.0")), group("", text("CONTAINS", "", "a", line("HAS PROPERTIES", path...)), text("CONTAINS", "", "b", line("HAS PROPERTIES", path...))))),
			[]string{""}},
		{"two numbers end the climb", root(group("", group("", number(lengthConcept, "2.0"), number(lengthConcept, "3.0")), group("", text("CONTAINS", "", "a", line("HAS PROPERTIES", path...))))),
			[]string{"", ""}},
		{"a second number beside ends the climb", root(group("", group("", number(lengthConcept, "2.0")), group("", number(lengthConcept, "3.0")), group("", text("CONTAINS", "", "a", line("HAS PROPERTIES", path...))))),
			[]string{"", ""}},
		{"what a graphic refers to is not the number's", root(group("", number(lengthConcept, "2.0", scoord("INFERRED FROM", "", "POINT", []float64{1, 2}, img("1.2"), reference("SELECTED FROM", 1, 2, 1)))), group("", line("CONTAINS", path...))),
			[]string{"own:POINT[1,2]@1.2"}},
		{"one of each in the document", root(group("", number(lengthConcept, "2.0")), group("", line("CONTAINS", path...))),
			[]string{"container:POLYLINE[10.5,20.5 30.5,20.5]@1.2"}},
		{"the root ties nothing where another number has a graphic", root(group("", number(lengthConcept, "2.0")), group("", line("CONTAINS", path...)), group("", number(lengthConcept, "3.0", line("INFERRED FROM", path...)))),
			[]string{"", "own:POLYLINE[10.5,20.5 30.5,20.5]@1.2"}},
		{"the root is no group", root(line("CONTAINS", path...), number(lengthConcept, "2.0"), number(lengthConcept, "3.0")),
			[]string{"", ""}},
		{"the graphic of a qualifying number is not free", root(group("", number(lengthConcept, "2.0", numberAs("HAS PROPERTIES", "125106|DCM|Doppler Angle", "60", "deg", line("INFERRED FROM", path...))))),
			[]string{""}},
		{"an unreadable graphic is not replaced by another", root(group("", number(lengthConcept, "2.0", scoord("INFERRED FROM", "", "POLYLINE", []float64{1, 2, 3}, img("1.2"))), line("CONTAINS", path...))),
			[]string{""}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			doc := Read(&tt.root)
			var got []string
			for _, n := range doc.Numerics {
				got = append(got, graphics(n))
			}
			if strings.Join(got, "\n") != strings.Join(tt.want, "\n") {
				t.Errorf("graphics\n got %q\nwant %q\nproblems %q", got, tt.want, doc.Problems)
			}
		})
	}
}
