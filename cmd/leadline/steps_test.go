package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"leadline/analyse/physical/calculator"
	"leadline/export/deid"
	"leadline/export/steps"
)

// What show prints of every measurement of the demo can be calculated again from
// what is printed: each line from the numbers in it, each of these numbers from a
// line above it, the result to the value, U and verdict that stand at the top. So can
// the uncertainty of every index, to which shared points add what the measurements
// say that they do.
func TestShownStepsCalculate(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	var files []string
	err := filepath.WalkDir(demoDir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && !strings.HasSuffix(path, ".csv") {
			files = append(files, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	opts := showOptions{identity: deid.Study, calipers: []string{filepath.Join(demoDir, "calipers.csv")}}
	if err := runShow(context.Background(), files, opts, &out); err != nil {
		t.Fatal(err)
	}
	rebuilt, checked := map[string]bool{}, map[string]bool{}
	added, indices, shared := map[string]bool{}, 0, 0
	study := ""
	for _, block := range strings.Split(out.String(), "\n\n") {
		if _, after, ok := strings.Cut(block, "Study UID"); ok {
			study = strings.Fields(after)[0]
		}
		name, title, _ := strings.Cut(block, ":")
		if strings.HasPrefix(name, "Index ") {
			indices++
			for _, problem := range calculate(block) {
				t.Errorf("%s %s: %s", study, name, problem)
			}
			for _, m := range sharedPattern.FindAllStringSubmatch(goesOn.ReplaceAllString(block, " $1"), -1) {
				if added[study+" "+m[1]] {
					shared++
				}
			}
		}
		if !strings.HasPrefix(name, "Measurement ") {
			continue
		}
		id := study + " " + name
		if strings.HasPrefix(title, "\n") || strings.HasPrefix(title, " \n") {
			t.Errorf("%s: nothing says what was measured", id)
		}
		if strings.Contains(block, "\n  rebuilt ") {
			rebuilt[id] = true
		}
		if !strings.Contains(block, "\n  Value\n") {
			continue
		}
		checked[id] = true
		for _, m := range termPattern.FindAllStringSubmatch(block, -1) {
			added[study+" "+m[2]] = true
		}
		for _, problem := range calculate(block) {
			t.Errorf("%s: %s", id, problem)
		}
		for line := range strings.Lines(block) {
			if len([]rune(strings.TrimSpace(line))) > steps.Width {
				t.Errorf("%s: a line of more than %d: %s", id, steps.Width, line)
			}
		}
	}
	if len(checked) < 200 || len(checked) != len(rebuilt) {
		t.Errorf("%d measurements calculated again, %d rebuilt", len(checked), len(rebuilt))
	}
	if indices < 200 || shared < 50 {
		t.Errorf("%d indices calculated again, %d parts of shared points found in their measurements", indices, shared)
	}
}

var (
	numberPattern = regexp.MustCompile(`[0-9.]+(?:e[-+]?[0-9]+)?`)
	headPattern   = regexp.MustCompile(`\n  (?:rebuilt|from the files shown alone:) (\S+) ± (\S+)`)
	pointPattern  = regexp.MustCompile(`\n    P\d+ +x (\S+) +y (\S+)`)
	framesPattern = regexp.MustCompile(`frames (\d+) and (\d+)`)
	goesOn        = regexp.MustCompile(`\n {8}(\S)`)
	discPattern   = regexp.MustCompile(`disc (\d+): place`)
	// sharedPattern is what a shared point adds to the one input that it moves, and
	// inherited what comes from a measurement.
	sharedPattern = regexp.MustCompile(`[xy] of point \([^)]*\) in measurements [0-9, ]+ = \(?[-0-9.e]+\)? \* \(?-?([0-9.e-]+)\)? = `)
	inherited     = regexp.MustCompile(` \* \(?[-+0-9.e]+\)?`)
	termPattern   = regexp.MustCompile(`\n +[xy]\d+ +(\S+) +(\S+)`)
)

// constants stand in formulas, not in the picture.
var constants = []string{"0.5", "2", "3", "4", "10", "12", "20", "100", "180", "1000"}

// calculate says what is wrong with the steps of one measurement.
func calculate(block string) (problems []string) {
	block = goesOn.ReplaceAllString(block, " $1")
	known := map[string]bool{}
	for _, c := range constants {
		known[c] = true
	}
	for _, pattern := range []*regexp.Regexp{pointPattern, termPattern, framesPattern} {
		for _, m := range pattern.FindAllStringSubmatch(block, -1) {
			known[strings.TrimPrefix(m[1], "-")], known[strings.TrimPrefix(m[2], "-")] = true, true
		}
	}
	part, values := "", map[string]float64{}
	for _, line := range strings.Split(block, "\n") {
		if strings.HasPrefix(line, "  ") && !strings.HasPrefix(line, "   ") {
			part = strings.TrimSpace(line)
		}
		sides := strings.Split(strings.TrimSpace(line), " = ")
		if !strings.HasPrefix(line, "    ") || len(sides) < 2 {
			continue
		}
		shown := strings.Fields(sides[len(sides)-1])[0]
		value, err := strconv.ParseFloat(shown, 64)
		if err != nil {
			problems = append(problems, "no value: "+line)
			continue
		}
		if m := discPattern.FindStringSubmatch(sides[0]); m != nil {
			known[m[1]] = true // a disc is placed by its number, which its name says
		}
		if len(sides) == 3 {
			if part == "Value" || part == "Uncertainty" {
				expression := strings.NewReplacer("atan2", "").Replace(sides[1])
				if strings.HasPrefix(block, "Index ") {
					expression = inherited.ReplaceAllString(expression, "")
				}
				for _, n := range numberPattern.FindAllString(expression, -1) {
					if !known[n] {
						problems = append(problems, fmt.Sprintf("%s comes from nowhere: %s", n, line))
					}
				}
			}
			got, slack, err := roundings(sides[1])
			if err != nil || math.Abs(got-value) > slack+halfDigit(value) {
				problems = append(problems, fmt.Sprintf("%v ± %v %v: %s", got, slack, err, line))
			}
		}
		known[strings.TrimPrefix(shown, "-")] = true
		values[part] = value
		values[sides[0]] = value
	}
	return append(problems, concludes(block, values)...)
}

// concludes compares the ends of the steps with what is told at the top.
func concludes(block string, values map[string]float64) (problems []string) {
	head := headPattern.FindStringSubmatch(block)
	for i, name := range []string{"Value", "Uncertainty"} {
		_, fraction, _ := strings.Cut(head[i+1], ".")
		if want := strconv.FormatFloat(values[name], 'f', len(fraction), 64); head[i+1] != want {
			problems = append(problems, fmt.Sprintf("%s ends in %s, the head says %s", name, want, head[i+1]))
		}
	}
	difference, compared := values["difference"], strings.Contains(block, "\n  Comparison")
	within := math.Abs(difference) <= values["tolerance"]
	if compared && (within != strings.Contains(block, "so: agrees") || within == strings.Contains(block, "so: differs")) {
		problems = append(problems, "the verdict does not follow")
	}
	return problems
}

// roundings evaluates an expression, and how far it could be off because each
// number in it was rounded for print.
func roundings(expression string) (value, slack float64, err error) {
	if value, err = calculator.Evaluate(expression); err != nil {
		return 0, 0, err
	}
	for _, at := range numberPattern.FindAllStringIndex(expression, -1) {
		n, err := strconv.ParseFloat(expression[at[0]:at[1]], 64)
		if err != nil || strings.HasSuffix(expression[:at[0]], "atan") || slices.Contains(constants, expression[at[0]:at[1]]) {
			continue
		}
		moved := expression[:at[0]] + strconv.FormatFloat(n+halfDigit(n), 'g', 17, 64) + expression[at[1]:]
		other, err := calculator.Evaluate(moved)
		if err != nil {
			return 0, 0, err
		}
		slack += math.Abs(other - value)
	}
	return value, 1.01 * slack, nil
}

// halfDigit is half a unit of the seventh digit.
func halfDigit(v float64) float64 {
	if v == 0 {
		return 1e-12
	}
	return 0.5000001 * math.Pow10(int(math.Floor(math.Log10(math.Abs(v))))-6)
}
