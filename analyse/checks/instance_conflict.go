package checks

import "leadline/analyse"

// InstanceConflict is the finding instance-conflict: two different files carry one SOP Instance UID.
var InstanceConflict = analyse.Check{
	ID:    "instance-conflict",
	Title: "two different files carry one SOP Instance UID",
	Doc: "A SOP Instance UID names one object for ever (PS3.5 chapter 9). Of files that share it and differ in" +
		" their bytes only the first by path is used.",
	Advice: "Find out which of the two is the true one: an export or an anonymiser changed the other without " +
		"giving it a new identity.",
	Severity: analyse.Error,
}
