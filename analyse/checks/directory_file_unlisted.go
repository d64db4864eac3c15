package checks

import "leadline/analyse"

// DirectoryFileUnlisted is the finding directory-file-unlisted: a media directory does not name all files beside it.
var DirectoryFileUnlisted = analyse.Check{
	ID:    "directory-file-unlisted",
	Title: "a media directory does not name all files beside it",
	Doc: "DICOM files lie below the folder of a media directory (DICOMDIR, PS3.3 Annex F) that it does not name. They are " +
		"audited like all others; a viewer that opens the medium by its directory does not show them.",
	Advice:   "Nothing needs doing for the audit; have the directory written anew before the medium is passed on.",
	Severity: analyse.Note,
}
