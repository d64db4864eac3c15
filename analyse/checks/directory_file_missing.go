package checks

import "leadline/analyse"

// DirectoryFileMissing is the finding directory-file-missing: a media directory names files that were not met.
var DirectoryFileMissing = analyse.Check{
	ID:    "directory-file-missing",
	Title: "a media directory names files that were not met",
	Doc: "A media directory (DICOMDIR, PS3.3 Annex F) lists the files of its medium. Files that it names and that " +
		"are not among those read were not copied, or lie outside what was read; what they hold is counted nowhere.",
	Advice:   "Copy the whole medium again, or ask for the export anew; a study may be incomplete for this reason alone.",
	Severity: analyse.Warning,
}
