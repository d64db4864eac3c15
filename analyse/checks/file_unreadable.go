package checks

import "leadline/analyse"

// FileUnreadable is the finding file-unreadable: a DICOM file cannot be read.
var FileUnreadable = analyse.Check{
	ID:    "file-unreadable",
	Title: "a DICOM file cannot be read",
	Doc: "A file that is DICOM by its first bytes ends early, or its header breaks the rules of PS3.5 so that " +
		"it cannot be read on. What it held counts nowhere.",
	Advice:   "Export the file again; its row in the files table says what was expected and at which offset.",
	Severity: analyse.Error,
}
