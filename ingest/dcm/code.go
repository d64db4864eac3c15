package dcm

// Code is one coded concept (PS3.3 section 8.8): match on Value and Scheme,
// never on Meaning, which differs between editions and languages.
type Code struct{ Value, Scheme, Version, Meaning string }

// IsZero tells that no code was given.
func (c Code) IsZero() bool { return c.Value == "" && c.Meaning == "" }

// Is tells whether c is the concept value of scheme.
func (c Code) Is(value, scheme string) bool { return c.Value == value && c.Scheme == scheme }

// Reference points at an instance, and at frames of it where Frames is not empty.
// Frames are numbered from 1 (PS3.3 C.18.4-1); real files also write 0.
type Reference struct {
	ClassUID, InstanceUID string
	Frames                []int
}

// Code reads the first item of the code sequence at tag; the zero Code where there is none.
func (d *Dataset) Code(tag Tag) Code {
	if codes := d.Codes(tag); len(codes) > 0 {
		return codes[0]
	}
	return Code{}
}

// Codes reads all items of the code sequence at tag.
func (d *Dataset) Codes(tag Tag) []Code {
	items := d.Items(tag)
	codes := make([]Code, 0, len(items))
	for i := range items {
		codes = append(codes, items[i].codeItem())
	}
	return codes
}

// codeItem reads one code item. Codes of more than 16 characters stand in Long
// Code Value or URN Code Value instead of Code Value (PS3.3 8.1).
func (d *Dataset) codeItem() Code {
	value := d.String(CodeValue)
	if value == "" {
		value = d.String(LongCodeValue)
	}
	if value == "" {
		value = d.String(URNCodeValue)
	}
	return Code{
		Value:   value,
		Scheme:  d.String(CodingSchemeDesignator),
		Version: d.String(CodingSchemeVersion),
		Meaning: d.String(CodeMeaning),
	}
}

// References reads all items of a sequence of SOP instance references
// (Referenced SOP Sequence, Referenced Image Sequence).
func (d *Dataset) References(tag Tag) []Reference {
	items := d.Items(tag)
	refs := make([]Reference, 0, len(items))
	for i := range items {
		refs = append(refs, Reference{
			ClassUID:    items[i].String(ReferencedSOPClassUID),
			InstanceUID: items[i].String(ReferencedSOPInstanceUID),
			Frames:      items[i].Ints(ReferencedFrameNumber),
		})
	}
	return refs
}
