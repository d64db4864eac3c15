package export

import (
	"strings"

	"leadline/export/deid"
)

// listSeparator stands between the members of a list in one cell.
const listSeparator = "; "

// settled is the rule of cells in which identity was settled part by part.
func settled[R any](R) deid.Rule { return deid.Keep }

func itself(s *studyRow) *studyRow { return s }

func studyIdentity() []column[*studyRow] {
	return []column[*studyRow]{
		studyNumber(itself),
		studyUID(itself),
		{Column: Column{Name: "study_id", Heading: "Study ID", Kind: Text, Width: 14, Place: Front, Rule: deid.Code,
			Meaning: "Study ID (0020,0010)."},
			cell: func(s *studyRow) Cell { return text(s.Header.ID) }},
		{Column: Column{Name: "accession_number", Heading: "Accession number", Kind: Text, Width: 15, Place: Aside, Rule: deid.Code,
			Meaning: "Accession Number (0008,0050)."},
			cell: func(s *studyRow) Cell { return text(s.Header.AccessionNumber) }},
		{Column: Column{Name: "study_date", Heading: "Study date", Kind: Date, Width: 11, Place: Front, Rule: deid.Stamp,
			Meaning: "Study Date (0008,0020), else the date of the first image."},
			cell: func(s *studyRow) Cell { return date(s.Start) }},
		{Column: Column{Name: "study_time", Heading: "Study time", Kind: Clock, Width: 10, Place: Front,
			Meaning: "Study Time (0008,0030), as the device's clock had it."},
			cell: func(s *studyRow) Cell { return clock(s.Start) }},
		{Column: Column{Name: "start", Heading: "First image", Kind: Moment, Width: 18, Place: Aside, Rule: deid.Stamp,
			Meaning: "When the first image was acquired."},
			cell: func(s *studyRow) Cell { return moment(s.First) }},
		{Column: Column{Name: "end", Heading: "Last image", Kind: Moment, Width: 18, Place: Aside, Rule: deid.Stamp,
			Meaning: "When the last image was acquired."},
			cell: func(s *studyRow) Cell { return moment(s.Last) }},
		{Column: Column{Name: "duration_s", Heading: "Duration (s)", Kind: Number, Unit: "s", Width: 10, Place: Aside,
			Meaning: "Time from the first to the last image; absent where the images do not tell their time."},
			cell: func(s *studyRow) Cell { return optional(s.DurationS) }},
		{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 38, Place: Front, Rule: deid.Device,
			Meaning: "Maker, model and serial number of the device that made most images."},
			cell: func(s *studyRow) Cell { return text(s.devices) }, ruleOf: settled[*studyRow]},
		{Column: Column{Name: "operator", Heading: "Operator", Kind: Text, Width: 14, Place: Aside, Rule: deid.Person,
			Meaning: "Who scanned (0008,1070)."},
			cell: func(s *studyRow) Cell { return text(strings.Join(s.Operators, listSeparator)) }},
	}
}

// studyPatient are the columns that only full identity writes.
func studyPatient() []column[*studyRow] {
	return []column[*studyRow]{
		{Column: Column{Heading: "Patient", Name: "patient_name", Kind: Text, Width: 24, Rule: deid.Patient,
			Meaning: "Patient's Name (0010,0010)."},
			cell: func(s *studyRow) Cell { return text(s.Patient.Name) }},
		{Column: Column{Heading: "Patient ID", Name: "patient_id", Kind: Text, Width: 14, Rule: deid.Patient,
			Meaning: "Patient ID (0010,0020)."},
			cell: func(s *studyRow) Cell { return text(s.Patient.ID) }},
		{Column: Column{Heading: "Born", Name: "patient_birth_date", Kind: Date, Width: 11, Rule: deid.Patient,
			Meaning: "Patient's Birth Date (0010,0030); absent where it is no date."},
			cell: func(s *studyRow) Cell { return date(parseDay(s.Patient.BirthDate)) }},
		{Column: Column{Heading: "Sex", Name: "patient_sex", Kind: Text, Width: 6, Rule: deid.Patient,
			Meaning: "Patient's Sex (0010,0040)."},
			cell: func(s *studyRow) Cell { return text(s.Patient.Sex) }},
		{Column: Column{Heading: "Age", Name: "patient_age", Kind: Text, Width: 7, Rule: deid.Patient,
			Meaning: "Patient's Age (0010,1010), as written: days D, weeks W, months M or years Y."},
			cell: func(s *studyRow) Cell { return text(s.Patient.Age) }},
		{Column: Column{Heading: "Weight (kg)", Name: "patient_weight_kg", Kind: Number, Unit: "kg", Width: 9, Rule: deid.Patient,
			Meaning: "Patient's Weight (0010,1030), as written."},
			cell: func(s *studyRow) Cell { return optional(s.Patient.WeightKg) }},
	}
}

func (w *writer) studyContent() []column[*studyRow] {
	return []column[*studyRow]{
		{Column: Column{Heading: "Protocol", Kind: Text, Width: 30, Wrap: true, Place: Front},
			cell: func(s *studyRow) Cell { return text(strings.Join(w.protocolTitles(s), listSeparator)) }},
		{Column: Column{Name: "protocol", Heading: "Protocol id", Kind: Text, Width: 24, Place: Aside,
			Meaning: "Protocols that applied to the study; absent where none did."},
			cell: func(s *studyRow) Cell { return text(strings.Join(s.Totals.Protocols, listSeparator)) }},
		{Column: Column{Name: "images", Heading: "Images", Kind: Integer, Width: 8, Meaning: "Number of images: stills and clips."},
			cell: func(s *studyRow) Cell { return count(s.Totals.Images) }},
		{Column: Column{Name: "stills", Heading: "Stills", Kind: Integer, Width: 7, Place: Aside, Meaning: "Images of one frame."},
			cell: func(s *studyRow) Cell { return count(s.Totals.Stills) }},
		{Column: Column{Name: "clips", Heading: "Clips", Kind: Integer, Width: 7, Place: Aside, Meaning: "Images of more than one frame."},
			cell: func(s *studyRow) Cell { return count(s.Totals.Clips) }},
		{Column: Column{Name: "measurements", Heading: "Measurements", Kind: Integer, Width: 14, Meaning: "Measurements found, rows of measurements.csv."},
			cell: func(s *studyRow) Cell { return count(s.Totals.Measurements) }},
		{Column: Column{Name: "rebuilt", Heading: "Rebuilt", Kind: Integer, Width: 8, Place: Aside, Meaning: "Measurements that were rebuilt from their caliper."},
			cell: func(s *studyRow) Cell { return count(s.Totals.Rebuilt) }},
		{Column: Column{Name: "differing", Heading: "Differ", Kind: Integer, Width: 7, Place: Front, Signal: AlarmIfAny,
			Meaning: "Measurements whose reported and rebuilt values differ."},
			cell: func(s *studyRow) Cell { return count(s.Totals.Differing) }},
	}
}

func studyResult() []column[*studyRow] {
	return []column[*studyRow]{
		{Column: Column{Name: "items_needed", Heading: "Items needed", Kind: Integer, Width: 8, Place: Front,
			Meaning: "Required protocol items that could be judged."},
			cell: func(s *studyRow) Cell { return count(s.Totals.ItemsNeeded) }},
		{Column: Column{Name: "items_met", Heading: "Items met", Kind: Integer, Width: 8, Place: Front,
			Meaning: "Those of items_needed that are met."},
			cell: func(s *studyRow) Cell { return count(s.Totals.ItemsMet) }},
		{Column: Column{Name: "completeness", Heading: "Completeness (%)", Kind: Share, Unit: "1", Width: 13, Place: Front,
			Meaning: "items_met ÷ items_needed, from 0 to 1; absent where nothing was needed."},
			cell: func(s *studyRow) Cell { return optional(s.Totals.Completeness) }},
		{Column: Column{Name: "complete", Heading: "Complete", Kind: Flag, Width: 11, Place: Front, Signal: ByWord,
			Meaning: "Whether no required item is partial or missing; absent where no protocol applied."},
			cell: func(s *studyRow) Cell { return optionalFlag(s.Totals.Complete) }},
		{Column: Column{Name: "report_state", Heading: "Report", Kind: Text, Width: 10, Signal: ByWord,
			Meaning: "State of the structured report: " + reportStates + "."},
			cell: func(s *studyRow) Cell { return text(s.Totals.ReportState) }},
		{Column: Column{Name: "report_delay_h", Heading: "Report after (h)", Kind: Number, Unit: "h", Width: 10, Place: Aside, Places: 1,
			Meaning: "Hours from the last image to the first report of that state; absent where the clocks do not tell."},
			cell: func(s *studyRow) Cell { return optional(s.Totals.ReportDelayH) }},
		{Column: Column{Name: "errors", Heading: "Errors", Kind: Integer, Width: 8, Place: Front, Signal: AlarmIfAny,
			Meaning: "Findings of severity error."},
			cell: func(s *studyRow) Cell { return count(s.Totals.Errors) }},
		{Column: Column{Name: "warnings", Heading: "Warnings", Kind: Integer, Width: 9, Place: Front, Signal: CautionIfAny,
			Meaning: "Findings of severity warning."},
			cell: func(s *studyRow) Cell { return count(s.Totals.Warnings) }},
	}
}

// protocolTitles are the titles of the protocols that applied to a study.
func (w *writer) protocolTitles(s *studyRow) []string {
	titles := make([]string, len(s.Totals.Protocols))
	for i, name := range s.Totals.Protocols {
		titles[i] = w.result.ProtocolTitle(name)
	}
	return titles
}
