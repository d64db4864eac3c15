package checks

import "leadline/analyse"

// StudyNotJudged is the finding study-not-judged: a fault of the program in judging
// one study, which must not end the run.
var StudyNotJudged = analyse.Check{
	ID:       "study-not-judged",
	Title:    "a fault of the program in judging the study",
	Doc:      "The program failed while it judged the study: what is shown of the study is not complete. The other studies are not touched.",
	Advice:   "Do not use the rows of this study; please report the fault to the developers, without patient data.",
	Severity: analyse.Error,
}
