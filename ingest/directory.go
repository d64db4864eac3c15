package ingest

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strings"

	"leadline/ingest/dcm"
)

// mediaDirectory is the SOP class of media storage directories (PS3.4 I.4).
const mediaDirectory = "1.2.840.10008.1.3.10"

// Directory is a media directory (Basic Directory IOD, PS3.3 Annex F), usually
// called DICOMDIR: the list of the files of one medium. Nothing is opened by what
// it names; it is there to be compared with the files that were met.
//
// The records are read flat, in the order of the file. The offsets that make a
// tree of them (0004,1400 and 0004,1420) are not followed: which file is named
// does not depend on them, and they may lead in circles.
type Directory struct {
	// Path is that of the directory file as the ledger shows it, Folder where it
	// lies: File IDs count from there. Folder is "." for a file without folder.
	Path, Folder string
	// Records are those that name a file and are in use.
	Records []DirectoryRecord
	// Broken tells that the sequence of records is damaged: those behind the damage
	// are lost, and more files may have been named.
	Broken bool
}

// DirectoryRecord is one record of a media directory that names a file.
type DirectoryRecord struct {
	// FileID is Referenced File ID (0004,1500) with its components, as the ledger
	// shows paths, joined by slashes: a path below the folder that never leads out of it. A component
	// that cannot be the name of a file reads "?".
	FileID string
	// Type is Directory Record Type (0004,1430), for instance IMAGE or SR DOCUMENT.
	Type string
	// SOPClassUID and SOPInstanceUID are those of the file (0004,1510 and 0004,1511).
	SOPClassUID, SOPInstanceUID string
}

// isDirectory tells a media directory by its class, or, where the file meta group
// that holds it is lost, by its records.
func isDirectory(sopClass string, header *dcm.File) bool {
	return sopClass == mediaDirectory || sopClass == "" && header.Data.Has(dcm.DirectoryRecordSequence)
}

// directory keeps a media directory and completes its ledger entry.
func (l *loader) directory(entry Entry, header *dcm.File) Entry {
	d := directoryOf(shownPath(entry.Path), &header.Data)
	l.mu.Lock()
	l.directories = append(l.directories, d)
	l.mu.Unlock()
	records := fmt.Sprintf("%d", len(header.Data.Items(dcm.DirectoryRecordSequence)))
	if d.Broken {
		records += ", and some that cannot be read"
	}
	entry.Outcome = OutcomeOther
	entry.Reason = fmt.Sprintf("a media directory; records: %s; in use and naming a file: %d; the files decide", records, len(d.Records))
	return entry
}

func directoryOf(at string, data *dcm.Dataset) Directory {
	d := Directory{Path: at, Folder: path.Dir(at)}
	d.Broken = slices.ContainsFunc(data.Problems(), func(p dcm.Problem) bool { return p.Tag == dcm.DirectoryRecordSequence })
	items := data.Items(dcm.DirectoryRecordSequence)
	for i := range items {
		if r, ok := recordOf(&items[i]); ok {
			d.Records = append(d.Records, r)
		}
	}
	return d
}

// recordOf reads a record; false where it names no file, as those of patients and
// studies, or is inactive (Record In-use Flag 0, PS3.3 F.3.2.2).
func recordOf(item *dcm.Dataset) (DirectoryRecord, bool) {
	if holdsAtMost(item, dcm.RecordInUseFlag, maxRecordValue) && item.Int(dcm.RecordInUseFlag) == Some(int64(0)) {
		return DirectoryRecord{}, false
	}
	id := fileID(item)
	return DirectoryRecord{
		FileID: id, Type: short(item, dcm.DirectoryRecordType),
		SOPClassUID:    short(item, dcm.ReferencedSOPClassUIDInFile),
		SOPInstanceUID: short(item, dcm.ReferencedSOPInstanceUIDInFile),
	}, id != ""
}

// maxRecordValue is the longest value of a record but the File ID, in bytes: that
// of a UID (PS3.5 9.1).
const maxRecordValue = 64

// short reads a value; one that is too long counts as absent.
func short(item *dcm.Dataset, tag dcm.Tag) string {
	if !holdsAtMost(item, tag, maxRecordValue) {
		return ""
	}
	return item.String(tag)
}

func holdsAtMost(item *dcm.Dataset, tag dcm.Tag, most int) bool {
	e := item.Find(tag)
	return e != nil && len(e.Value) > 0 && len(e.Value) <= most
}

// maxFileID is the longest File ID that is read, in bytes. The standard has 8
// components of 8 characters (PS3.10 8.2); real ones are longer at times.
const maxFileID = 1024

// fileID joins the components of a File ID; empty where there is none.
func fileID(item *dcm.Dataset) string {
	e := item.Find(dcm.ReferencedFileID)
	switch {
	case e == nil || strings.Trim(string(e.Value), " \x00") == "":
		return ""
	case !holdsAtMost(item, dcm.ReferencedFileID, maxFileID):
		return noName
	}
	components := item.Strings(dcm.ReferencedFileID)
	for i, c := range components {
		components[i] = component(c)
	}
	return strings.Join(components, "/")
}

// noName stands for what cannot be the name of a file.
const noName = "?"

func component(c string) string {
	if c == "" || c == "." || c == ".." || strings.Contains(c, "/") {
		return noName
	}
	return shownPath(c)
}

// inOrder sorts directories by path, so that the number of workers does not show.
func inOrder(directories []Directory) []Directory {
	slices.SortStableFunc(directories, func(a, b Directory) int { return cmp.Compare(a.Path, b.Path) })
	return directories
}
