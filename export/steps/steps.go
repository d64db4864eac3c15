// Package steps writes the work of a measurement as lines of text that a reader can
// follow with a calculator: plain characters, at most 72 columns, so that they
// survive a mail. It computes nothing; analyse/rebuild gives the numbers.
package steps

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"text/tabwriter"

	"leadline/analyse/physical"
)

// Width is how many columns a line has at most, where its words allow it.
const Width = 72

// digits are those a number is shown with: two more than any uncertainty needs, so
// that what is computed again from the text agrees in the last printed places.
const digits = 7

// mostSteps bounds the lines of one part; a traced outline can have thousands. Two
// planes of twenty discs have some 550.
const mostSteps = 600

// Line is one step with its numbers in place.
type Line struct {
	Part       string  `json:"part"`
	Name       string  `json:"name"`
	Expression string  `json:"expression"`
	Value      float64 `json:"value"`
	Unit       string  `json:"unit"`
}

// Lines are all steps, for other programs.
func Lines(w *physical.Work) []Line {
	lines := make([]Line, len(w.Steps))
	for i, s := range w.Steps {
		lines[i] = Line{string(s.Part), s.Name, expression(s), s.Value, string(s.Unit)}
	}
	return lines
}

// Term is what one coordinate of the caliper adds: the derivative of the value by it,
// a pixel, and its part of the standard uncertainty.
type Term struct {
	Coordinate string  `json:"coordinate"`
	PerPixel   float64 `json:"per_pixel"`
	StdU       float64 `json:"standard_uncertainty"`
}

// Terms are those of all coordinates, for other programs.
func Terms(w *physical.Work) []Term {
	terms := make([]Term, len(w.Terms))
	for i, t := range w.Terms {
		terms[i] = Term{t.Name, t.PerPixel, t.StdU}
	}
	return terms
}

// headings are the parts in their order.
var headings = []struct {
	part  physical.Part
	title string
}{
	{physical.PartScale, "Scale"},
	{physical.PartValue, "Value"},
	{physical.PartUncertainty, "Uncertainty"},
	{physical.PartComparison, "Comparison with the reported value"},
}

// Text is the whole work, each line indented by two blanks or more.
func Text(w *physical.Work) string {
	var b strings.Builder
	points(&b, w)
	for _, h := range headings {
		var steps []physical.Step
		for _, s := range w.Steps {
			if s.Part == h.part {
				steps = append(steps, s)
			}
		}
		if len(steps) == 0 {
			continue
		}
		fmt.Fprintf(&b, "  %s\n", h.title)
		for i, s := range steps {
			if i == mostSteps {
				fmt.Fprintf(&b, "    (%d more lines left out; --json has them)\n", len(steps)-i-1)
			}
			if i < mostSteps || i == len(steps)-1 {
				b.WriteString(Wrap(sentence(s), 4))
			}
			if h.part == physical.PartUncertainty && i == 0 {
				terms(&b, w)
			}
		}
	}
	return b.String()
}

func points(b *strings.Builder, w *physical.Work) {
	if len(w.Points) == 0 {
		return
	}
	fmt.Fprintln(b, "  Points, in pixels right of and below the top left corner")
	for i, p := range w.Points {
		if i == mostSteps {
			fmt.Fprintf(b, "    (%d more points left out; --json has them)\n", len(w.Points)-i)
			return
		}
		fmt.Fprintf(b, "    P%-3d x %-10s y %s\n", i+1, number(p.X), number(p.Y))
	}
}

// terms is the table of what each coordinate adds. A coordinate that the value does
// not depend on adds nothing and is left out.
func terms(b *strings.Builder, w *physical.Work) {
	if len(w.Terms) == 0 {
		return
	}
	unit := w.Steps[len(w.Steps)-1].Unit
	for _, s := range w.Steps {
		if s.Part == physical.PartValue {
			unit = s.Unit
		}
	}
	var table strings.Builder
	t := tabwriter.NewWriter(&table, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(t, "    coordinate\tmoves the value by %s/px\tadds to u, %s\t\n", unit, unit)
	shown := 0
	for _, term := range w.Terms {
		if term.PerPixel == 0 {
			continue
		}
		if shown++; shown <= mostSteps {
			fmt.Fprintf(t, "    %s\t%s\t%s\t\n", term.Name, number(term.PerPixel), number(term.StdU))
		}
	}
	t.Flush()
	for line := range strings.Lines(table.String()) {
		fmt.Fprintln(b, strings.TrimRight(line, " \n"))
	}
}

// sentence is "name = expression = value unit".
func sentence(s physical.Step) string {
	expr, value := expression(s), number(s.Value)
	if expr != value {
		expr += " = " + value
	}
	if s.Unit == physical.One {
		return fmt.Sprintf("%s = %s", s.Name, expr)
	}
	return fmt.Sprintf("%s = %s %s", s.Name, expr, s.Unit)
}

// expression is the formula with its numbers. A negative number stands in
// parentheses, but for one that stands alone.
func expression(s physical.Step) string {
	if s.Formula == "%v" {
		return number(s.Args[0])
	}
	args := make([]any, len(s.Args))
	for i, a := range s.Args {
		text := number(a)
		if strings.HasPrefix(text, "-") {
			text = "(" + text + ")"
		}
		args[i] = text
	}
	return doubled.ReplaceAllString(fmt.Sprintf(s.Formula, args...), "($1)")
}

// doubled is a negative number in parentheses that stood in parentheses already.
var doubled = regexp.MustCompile(`\(\((-[^() ]+)\)\)`)

func number(v float64) string {
	if v == 0 {
		return "0" // never "-0"
	}
	return strconv.FormatFloat(v, 'g', digits, 64)
}

// Wrap breaks a sentence at blanks to lines of Width; what goes on is indented
// further.
func Wrap(text string, indent int) string {
	var b strings.Builder
	line := strings.Repeat(" ", indent)
	for i, word := range strings.Split(text, " ") {
		switch {
		case i == 0:
			line += word
		case len(line)+1+len(word) > Width:
			fmt.Fprintln(&b, line)
			line = strings.Repeat(" ", indent+4) + word
		default:
			line += " " + word
		}
	}
	fmt.Fprintln(&b, line)
	return b.String()
}
