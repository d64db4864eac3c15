package checks

import "leadline/analyse"

// InstanceDuplicate is the finding instance-duplicate: the same file is there twice.
var InstanceDuplicate = analyse.Check{
	ID:       "instance-duplicate",
	Title:    "the same file is there twice",
	Doc:      "Files with the same bytes count once.",
	Advice:   "Nothing needs doing; the copy can be removed.",
	Severity: analyse.Note,
}
