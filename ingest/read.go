package ingest

import (
	"errors"
	"fmt"
	"os"

	"leadline/ingest/dcm"
)

// read opens one file and says what it is: one row, or, for a container, one more
// for each file in it. It returns the size of the file. A panic in reading is that
// file's row, not the end of the run.
func (w *worker) read(m met) (size int64) {
	own := Entry{Path: m.path, Outcome: m.outcome, Reason: m.refused}
	if m.refused != "" {
		w.add(row{entry: own})
		return 0
	}
	defer func() {
		if r := recover(); r != nil {
			w.scanner = dcm.Scanner{}
			w.add(row{entry: faulty(own)})
			size = own.Bytes
		}
	}()
	if size, ok := w.recall(own); ok {
		return size
	}
	w.kept.begin()
	file, err := openNow(m.path)
	if err != nil {
		if info, err := os.Stat(m.path); err == nil {
			own.Bytes = info.Size()
		}
		own.Outcome, own.Reason = OutcomeUnreadable, "cannot be opened: "+reasonOf(err)
		w.add(row{entry: own})
		return own.Bytes
	}
	defer file.Close()
	// What is open may no longer be what was listed.
	info, err := file.Stat()
	if err != nil || !info.Mode().IsRegular() {
		own.Outcome, own.Reason = OutcomeUnreadable, "no longer a regular file"
		w.add(row{entry: own})
		return 0
	}
	own.Bytes = info.Size()
	bytes := w.kept.watch(file, info.Size())
	header, err := w.scanner.Scan(bytes, info.Size())
	if errors.Is(err, dcm.ErrNotDICOM) {
		if kind := containerOf(bytes, info.Size()); kind != noContainer {
			// Not through the watch, which is one worker's: others may read members.
			w.expand(own, w.contentsOf(kind, own.Path, file, info.Size()))
			return own.Bytes
		}
	}
	w.kept.take(header, err)
	own, inst := w.judge(own, header, err)
	w.kept.keep(own.Path, info)
	w.add(row{entry: own, inst: inst})
	return own.Bytes
}

// faulty is the row of a file whose reading panicked.
func faulty(own Entry) Entry {
	own.Outcome, own.Reason = OutcomeUnreadable, "an unexpected fault while reading it; please report it"
	return own
}

// judge turns the outcome of a scan into the ledger entry and the instance.
func (w *worker) judge(entry Entry, header *dcm.File, err error) (Entry, *Instance) {
	entry.TransferSyntaxUID = header.TransferSyntaxUID
	entry.SOPClassUID = orMeta(header, dcm.SOPClassUID, dcm.MediaStorageSOPClassUID)
	entry.SOPUID = instanceUID(header)
	entry.StudyUID = header.Data.String(dcm.StudyInstanceUID)
	switch {
	case errors.Is(err, dcm.ErrNotDICOM):
		entry.Outcome, entry.Reason = OutcomeNotDICOM, err.Error()
		return entry, nil
	case err != nil:
		entry.Outcome, entry.Reason = OutcomeUnreadable, "the header cannot be read: "+reasonOf(err)
		return entry, nil
	case isDirectory(entry.SOPClassUID, header):
		return w.directory(entry, header), nil
	}
	if missing := missingIdentity(entry); missing != "" {
		entry.Outcome, entry.Reason = OutcomeUnreadable, missing
		if entry.SOPClassUID != "" && kindOf(entry.SOPClassUID, header) == OutcomeOther {
			entry.Outcome = OutcomeOther // a palette or template belongs to no study
		}
		return entry, nil
	}
	inst := w.builder.build(entry, header)
	entry.StudyUID = inst.Study.UID // one copy of the text
	entry.Outcome = outcomeOf(inst)
	entry.Reason = remark(inst, header)
	return entry, inst
}

func outcomeOf(inst *Instance) Outcome {
	switch {
	case inst.Image != nil:
		return OutcomeImage
	case inst.Report != nil:
		return OutcomeReport
	case inst.Presentation != nil:
		return OutcomePresentation
	}
	return OutcomeOther
}

// missingIdentity says which identifier an object lacks that a study is put
// together by.
func missingIdentity(e Entry) string {
	switch {
	case e.SOPClassUID == "":
		return "no SOP Class UID (0008,0016): what the object is cannot be told"
	case e.SOPUID == "":
		return "no SOP Instance UID (0008,0018): the object cannot be told from others"
	case e.StudyUID == "":
		return "no Study Instance UID (0020,000D): the object belongs to no study"
	}
	return ""
}

// remark is what the ledger adds to a file that was read.
func remark(inst *Instance, header *dcm.File) string {
	switch {
	case inst.Image == nil && ultrasoundClasses[inst.SOPClassUID]:
		return "an ultrasound image by its SOP class, with neither rows nor pixel data"
	case inst.Image != nil && inst.Image.PixelData == PixelsCut:
		return "read; the pixel data are cut short"
	case header.Guessed && header.TransferSyntaxUID == "":
		return "read; no transfer syntax is declared, the encoding was judged from the bytes"
	case header.Guessed && !dcm.KnownSyntax(header.TransferSyntaxUID):
		return "read; the transfer syntax is unknown, the encoding was judged from the bytes"
	case header.Guessed:
		return "read; the header is not written as the transfer syntax says"
	case len(inst.Problems) > 0:
		return fmt.Sprintf("read; elements that could not be read as the standard wants: %d", len(inst.Problems))
	}
	return ""
}
