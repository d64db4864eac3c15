package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"

	"leadline/analyse"
	"leadline/analyse/overview"
	"leadline/export"
	"leadline/export/deid"
)

// summary is what an audit prints. Its JSON keys are promised: none is renamed or
// removed, and every outcome and verdict is there, be it 0. A count that --min-cell
// leaves out is null.
type summary struct {
	Inputs       []string          `json:"inputs"`
	Files        fileCounts        `json:"files"`
	Studies      studyCounts       `json:"studies"`
	Measurements measurementCounts `json:"measurements"`
	Protocols    []protocolSummary `json:"protocols"`
	Findings     findingCounts     `json:"findings"`
	Month        monthSummary      `json:"month"`
	Workbook     string            `json:"workbook"`
	Tables       string            `json:"tables,omitempty"`
	Identity     deid.Identity     `json:"identity"`
	Caution      string            `json:"caution"`
	overview     overview.Overview // the same counts in their order, for the text
}

type fileCounts struct {
	Total     int            `json:"total"`
	ByOutcome map[string]int `json:"by_outcome"`
}

type studyCounts struct {
	Total         int    `json:"total"`
	LeftOut       int    `json:"left_out"`
	Since         string `json:"since,omitempty"`
	Until         string `json:"until,omitempty"`
	Images        int    `json:"images"`
	Stills        int    `json:"stills"`
	Clips         int    `json:"clips"`
	Reports       int    `json:"reports"`
	Presentations int    `json:"presentations"`
	Assessed      *int   `json:"assessed"`
	Complete      *int   `json:"complete"`
}

type measurementCounts struct {
	Total     int            `json:"total"`
	Rebuilt   int            `json:"rebuilt"`
	ByVerdict map[string]int `json:"by_verdict"`
}

type protocolSummary struct {
	Name     string `json:"name"`
	Title    string `json:"title"`
	Version  string `json:"version"`
	Applied  *int   `json:"applied"`
	Complete *int   `json:"complete"`
}

// monthSummary is what all studies together say; left_out counts the rows, points and
// charts that --min-cell leaves out.
type monthSummary struct {
	Lines   []string `json:"lines"`
	LeftOut int      `json:"left_out"`
}

type findingCounts struct {
	Error   int              `json:"error"`
	Warning int              `json:"warning"`
	Note    int              `json:"note"`
	ByID    []findingSummary `json:"by_id"`
}

type findingSummary struct {
	Finding  string           `json:"finding"`
	Title    string           `json:"title"`
	Severity analyse.Severity `json:"severity"`
	Count    *int             `json:"count"`
	Studies  *int             `json:"studies"`
}

// shown is a count, nil where it is left out.
func shown(n int, hidden bool) *int {
	if hidden {
		return nil
	}
	return &n
}

func summaryOf(result *analyse.Result, o overview.Overview, opts auditOptions) summary {
	s := summary{
		Inputs: result.Inputs,
		Files:  filesOf(o),
		Studies: studyCounts{
			Total: o.Studies, LeftOut: result.LeftOut, Since: result.Since, Until: result.Until,
			Images: o.Images, Stills: o.Stills, Clips: o.Clips, Reports: o.Reports, Presentations: o.Presentations,
			Assessed: shown(o.Assessed, o.Hidden), Complete: shown(o.Complete, o.Hidden),
		},
		Measurements: measurementCounts{Total: o.Measurements, Rebuilt: o.Rebuilt, ByVerdict: map[string]int{}},
		Protocols:    []protocolSummary{},
		Findings:     findingsOf(o),
		Month:        monthSummary{Lines: overview.MonthLines(result, opts.identity != deid.None), LeftOut: result.Month.Suppressed},
		Workbook:     opts.out, Tables: opts.tables, Identity: opts.identity, Caution: caution,
		overview: o,
	}
	for _, c := range o.Verdicts {
		s.Measurements.ByVerdict[string(c.Verdict)] = c.Measurements
	}
	for _, p := range result.Protocols {
		hidden := result.Month.Suppresses(p.Name, analyse.CompleteStudies, "")
		s.Protocols = append(s.Protocols, protocolSummary{p.Name, p.Title, p.Version, shown(p.Applied, hidden), shown(p.Complete, hidden)})
	}
	return s
}

func filesOf(o overview.Overview) fileCounts {
	files := fileCounts{Total: o.Files, ByOutcome: map[string]int{}}
	for _, c := range o.Outcomes {
		files.ByOutcome[string(c.Outcome)] = c.Files
	}
	return files
}

func findingsOf(o overview.Overview) findingCounts {
	findings := findingCounts{Error: o.Errors, Warning: o.Warnings, Note: o.Notes, ByID: []findingSummary{}}
	for _, f := range o.Findings {
		findings.ByID = append(findings.ByID, findingSummary{f.ID, f.Title, f.Severity, shown(f.Count, f.Hidden), shown(f.Studies, f.Hidden)})
	}
	return findings
}

// printSummary writes in one piece, so that a full disk behind standard output is
// an error and not half a summary called done.
func printSummary(out io.Writer, s interface{ text() string }, asJSON bool) error {
	if asJSON {
		return printJSON(out, s)
	}
	_, err := io.WriteString(out, s.text())
	return err
}

func printJSON(out io.Writer, v any) error {
	data, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return err
	}
	_, err = out.Write(append(data, '\n'))
	return err
}

// shownFindings is how many kinds of finding the text names; the workbook has all.
const shownFindings = 10

// text is the summary for a person, in a fixed order: what was read, measured,
// complete, found, and where it stands.
func (s summary) text() string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "Files\t%d\t%s\n", s.Files.Total, outcomes(s.overview))
	fmt.Fprintf(w, "Studies\t%d\t%s\n", s.Studies.Total, s.studies())
	fmt.Fprintf(w, "Measurements\t%d\t%s\n", s.Measurements.Total, s.verdicts())
	for _, p := range s.Protocols {
		fmt.Fprintf(w, "Protocol\t%s\t%s held against %s, complete: %s\n", word(p.Applied), studyNoun(p.Applied), p.Name, word(p.Complete))
	}
	for i, line := range s.Month.Lines {
		fmt.Fprintf(w, "%s\t\t%s\n", []string{"The month", ""}[min(i, 1)], line)
	}
	s.Findings.print(w)
	printOutputs(w, s.Workbook, s.Tables)
	w.Flush()
	printIdentity(&b, s.Identity)
	return b.String()
}

func (c findingCounts) print(w io.Writer) {
	fmt.Fprintf(w, "Findings\t%d\t%s, %s, %s\n", c.Error+c.Warning+c.Note,
		analyse.Counted(c.Error, "error", "errors"), analyse.Counted(c.Warning, "warning", "warnings"), analyse.Counted(c.Note, "note", "notes"))
	for _, f := range c.ByID[:min(shownFindings, len(c.ByID))] {
		fmt.Fprintf(w, "  %s\t%s\t%s\n", f.Severity, word(f.Count), f.where())
	}
	if more := len(c.ByID) - shownFindings; more > 0 {
		fmt.Fprintf(w, "\t\tand %s of finding in the workbook\n", analyse.Counted(more, "more kind", "more kinds"))
	}
}

func printOutputs(w io.Writer, workbook, tables string) {
	fmt.Fprintf(w, "Workbook\t%s\n", workbook)
	if tables != "" {
		fmt.Fprintf(w, "Tables\t%s\n", tables)
	}
}

// printIdentity ends every summary: what identifies someone, where it is not the
// default, and the caution.
func printIdentity(w io.Writer, id deid.Identity) {
	if id != deid.Study {
		fmt.Fprintln(w, id.Meaning())
	}
	fmt.Fprintln(w, caution)
}

// word writes a count for a person.
func word(n *int) string {
	if n == nil {
		return "–"
	}
	return strconv.Itoa(*n)
}

// studyNoun is the noun for a count that stands in another column.
func studyNoun(n *int) string {
	if n == nil {
		return "studies"
	}
	return analyse.Agree(*n, "study", "studies")
}

func (f findingSummary) where() string {
	if f.Studies == nil || *f.Studies == 0 {
		return f.Title
	}
	return f.Title + ", in " + analyse.Counted(*f.Studies, "study", "studies")
}

func outcomes(o overview.Overview) string {
	var parts []string
	for _, c := range o.Outcomes {
		if c.Files > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", export.Words(string(c.Outcome)), c.Files))
		}
	}
	return strings.Join(parts, ", ")
}

func (s *summary) studies() string {
	c := s.Studies
	return strings.Join([]string{
		analyse.Counted(c.Stills, "still", "stills"), analyse.Counted(c.Clips, "clip", "clips"),
		analyse.Counted(c.Reports, "report", "reports"), analyse.Counted(c.Presentations, "presentation state", "presentation states"),
	}, ", ") + leftOut(c.LeftOut)
}

func leftOut(studies int) string {
	if studies == 0 {
		return ""
	}
	return "; " + analyse.Counted(studies, "study", "studies") + " of other days left out"
}

func (s *summary) verdicts() string {
	var parts []string
	for _, c := range s.overview.Verdicts {
		if c.Measurements > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", export.Words(string(c.Verdict)), c.Measurements))
		}
	}
	return strings.Join(parts, ", ")
}
