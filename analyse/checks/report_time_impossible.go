package checks

import (
	"fmt"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

// ReportTimeImpossible is the finding report-time-impossible: the report is older than what it tells of.
var ReportTimeImpossible = analyse.Check{
	ID:    "report-time-impossible",
	Title: "a report is older than its images or its verification",
	Doc: "The content of a report (Content Date and Time, PS3.3 C.17.2) was written before the first image of its study was taken, or its Verification" +
		" DateTime (0040,A030) is more than a minute before it was written. The clocks of device and report station disagree, or the report belongs to" +
		" another study. Times to the report are not computed. Not judged where only one of the two clocks says its zone.",
	Advice:   "Compare the clocks of the device and of the station that writes reports; see whether the report belongs to this study.",
	Severity: analyse.Warning,
	Run:      reportTimeImpossible,
}

const verificationTolerance = time.Minute

func reportTimeImpossible(s *analyse.Study) []analyse.Finding {
	var findings []analyse.Finding
	for _, r := range s.Reports {
		if message := impossible(s, r); message != "" {
			findings = append(findings, analyse.Finding{SOPUID: r.SOPInstanceUID, Message: message})
		}
	}
	return findings
}

func impossible(s *analyse.Study, r *ingest.Instance) string {
	written := r.Content
	if len(s.Images) > 0 && s.First.HasTime && written.HasTime && written.Zone == s.First.Zone {
		if early := s.First.After(written); early > 0 {
			return fmt.Sprintf("the report was written %s before the first image", spell(early))
		}
	}
	for _, at := range analyse.VerifiedAt(r) {
		if at.HasTime && written.HasTime && written.After(at) > verificationTolerance {
			return fmt.Sprintf("the report was verified %s before it was written", spell(written.After(at)))
		}
	}
	return ""
}
