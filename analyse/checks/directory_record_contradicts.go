package checks

import "leadline/analyse"

// DirectoryRecordContradicts is the finding directory-record-contradicts: a media directory says a file is another object.
var DirectoryRecordContradicts = analyse.Check{
	ID:    "directory-record-contradicts",
	Title: "a media directory says that a file is another object",
	Doc: "The record of a file in a media directory (DICOMDIR) repeats its SOP Class and SOP Instance UID (0004,1510 and " +
		"0004,1511, PS3.3 F.3.2.2). Others stand in the file: it was exchanged, or written again after the directory. The file decides.",
	Advice:   "Find out which object belongs there; the studies are put together from the files.",
	Severity: analyse.Warning,
}
