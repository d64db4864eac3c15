package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
)

// Run asks every check of the study and returns the findings, stamped with id,
// severity, advice and study.
func Run(s *analyse.Study) []analyse.Finding {
	return run(s, func(*analyse.Check) bool { return true })
}

// RunOfDevice asks the checks that speak of a device or an export, and the one of
// labels. They need no measurements.
func RunOfDevice(s *analyse.Study) []analyse.Finding {
	return run(s, func(c *analyse.Check) bool { return c.OfDevice || c.ID == LabelContradicts.ID })
}

func run(s *analyse.Study, asked func(*analyse.Check) bool) []analyse.Finding {
	paths := pathsOf(s)
	var findings []analyse.Finding
	for i := range All {
		c := &All[i]
		if c.Run == nil || !asked(c) {
			continue
		}
		for _, f := range c.Run(s) {
			f.StudyUID, f.Path = s.UID, paths[f.SOPUID]
			findings = append(findings, Stamp(c, f))
		}
	}
	return findings
}

// pathsOf finds the file of an image, report or presentation state by its UID.
func pathsOf(s *analyse.Study) map[string]string {
	paths := make(map[string]string, len(s.Images)+len(s.Reports))
	for _, img := range s.Images {
		paths[img.SOPInstanceUID] = img.Path
	}
	for _, group := range [][]*ingest.Instance{s.Reports, s.Presentations} {
		for _, inst := range group {
			paths[inst.SOPInstanceUID] = inst.Path
		}
	}
	return paths
}

// Stamp fills what belongs to the id, so that no check can mis-state it.
func Stamp(c *analyse.Check, f analyse.Finding) analyse.Finding {
	f.ID, f.Title, f.Advice = c.ID, c.Title, c.Advice
	if !c.Graded || f.Severity == "" {
		f.Severity = c.Severity
	}
	return f
}

func one(f analyse.Finding) []analyse.Finding { return []analyse.Finding{f} }

// eachImage asks a question of every image; an empty answer is no finding.
func eachImage(ask func(*analyse.Image) string) func(*analyse.Study) []analyse.Finding {
	return func(s *analyse.Study) []analyse.Finding {
		var findings []analyse.Finding
		for _, img := range s.Images {
			if message := ask(img); message != "" {
				findings = append(findings, analyse.Finding{SOPUID: img.SOPInstanceUID, Message: message})
			}
		}
		return findings
	}
}

// eachPicture asks of every image what follows from its picture alone, once for
// images that share one: for questions whose work grows with the square of regions.
func eachPicture(ask func(*analyse.Picture) string) func(*analyse.Study) []analyse.Finding {
	return func(s *analyse.Study) []analyse.Finding {
		answers := map[*analyse.Picture]string{}
		return eachImage(func(img *analyse.Image) string {
			answer, known := answers[img.Picture]
			if !known {
				answer = ask(img.Picture)
				answers[img.Picture] = answer
			}
			return answer
		})(s)
	}
}

// firstRegion returns the first answer of a question asked of every region, with
// the region named and the number of others that share it.
func firstRegion(img *analyse.Image, ask func(*analyse.Region) string) string {
	first, others := "", 0
	for i := range img.Regions {
		switch answer := ask(&img.Regions[i]); {
		case answer == "":
		case first == "":
			first = fmt.Sprintf("region %d: %s", img.Regions[i].Raw.Ordinal, answer)
		default:
			others++
		}
	}
	if others > 0 {
		first += " (and " + analyse.Counted(others, "more region", "more regions") + ")"
	}
	return first
}

// eachMeasurement asks a question of every measurement.
func eachMeasurement(ask func(*analyse.Measurement) string) func(*analyse.Study) []analyse.Finding {
	return func(s *analyse.Study) []analyse.Finding {
		var findings []analyse.Finding
		for i := range s.Measurements {
			m := &s.Measurements[i]
			if message := ask(m); message != "" {
				findings = append(findings, analyse.Finding{SOPUID: subject(m), Message: message})
			}
		}
		return findings
	}
}

// subject is the image of a measurement, else the report that holds it.
func subject(m *analyse.Measurement) string {
	if m.SOPUID != "" {
		return m.SOPUID
	}
	return m.SourceUID
}

// name names a measurement without free text: by the title of its measure, else by its code,
// else by its number. Labels may hold what a person typed.
func name(m *analyse.Measurement) string {
	switch {
	case m.Measure != "":
		return fmt.Sprintf("measurement %d (%s)", m.Number, m.Title)
	case m.Code != "":
		return fmt.Sprintf("measurement %d (code %s %s)", m.Number, m.Code, m.Scheme)
	}
	return fmt.Sprintf("measurement %d", m.Number)
}

// byReason finds the measurements that were not rebuilt or compared for a reason.
func byReason(id string) func(*analyse.Study) []analyse.Finding {
	return eachMeasurement(func(m *analyse.Measurement) string {
		if m.Reason != id {
			return ""
		}
		return name(m) + ": " + m.Note
	})
}

// byStatus finds the required protocol items of one status.
func byStatus(status analyse.ItemStatus) func(*analyse.Study) []analyse.Finding {
	return func(s *analyse.Study) []analyse.Finding {
		var findings []analyse.Finding
		for _, item := range s.Items {
			if !item.Required || item.Status != status {
				continue
			}
			fell := item.Note
			if fell == "" {
				fell = fmt.Sprintf("%d of %d", item.Found, item.Needed)
			}
			message := fmt.Sprintf("%s (%s): %s", item.Title, item.ProtocolTitle, fell)
			findings = append(findings, analyse.Finding{Message: message, Severity: item.Severity})
		}
		return findings
	}
}

// Row is the line of the README's table of findings for c.
func Row(c *analyse.Check) string {
	return fmt.Sprintf("| `%s` | %s | %s | %s |", c.ID, c.Severity, c.Doc, c.Advice)
}
