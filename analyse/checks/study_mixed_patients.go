package checks

import (
	"fmt"

	"leadline/analyse"
)

// StudyMixedPatients is the finding study-mixed-patients: one study holds files of two patients.
var StudyMixedPatients = analyse.Check{
	ID:    "study-mixed-patients",
	Title: "one study holds files of two patients",
	Doc: "A Study Instance UID belongs to one patient (PS3.3 A.1.2). Different patient ids under it mean that " +
		"a file went to the wrong study or an id was corrected in part of it.",
	Advice:   "Do not use the numbers of this study before the patient of every file is settled.",
	Severity: analyse.Error,
	Run:      studyMixedPatients,
}

// studyMixedPatients counts identities; it never names one.
func studyMixedPatients(s *analyse.Study) []analyse.Finding {
	if s.Patients < 2 {
		return nil
	}
	return one(analyse.Finding{Message: fmt.Sprintf("the files of this study name %d different patients", s.Patients)})
}
