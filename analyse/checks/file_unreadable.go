package checks

import "leadline/analyse"

// FileUnreadable is the finding file-unreadable: a file, folder or archive cannot be read.
var FileUnreadable = analyse.Check{
	ID:    "file-unreadable",
	Title: "a file, folder or archive cannot be read",
	Doc: "A DICOM file ends early, its header breaks the rules of PS3.5 so that it cannot be read on, or it lacks a " +
		"UID by which studies are put together; a file or folder cannot be opened; an archive, or a file in one, is " +
		"encrypted, damaged or beyond a limit. What it held counts nowhere.",
	Advice:   "Its row in the files table gives the reason. Export the file again, or unpack the archive.",
	Severity: analyse.Error,
}
