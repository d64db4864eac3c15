package deid

// Rule says what kind of identifying thing a column holds, and so what happens to
// it. The choice of what is replaced follows the Basic Application Level
// Confidentiality Profile (PS3.15 Annex E, Table E.1-1).
type Rule int

// The rules. Under Full every rule keeps the value.
//
//	rule      none                              study
//	Keep      kept                              kept
//	UID       2.25 pseudonym                    kept
//	Code      pseudonym                         kept
//	Device    serial replaced by a pseudonym    kept
//	Person    pseudonym                         number
//	Path      pseudonym                         kept but for folders named after the patient
//	Stamp     shifted                           kept
//	Period    left out                          kept
//	Words     left out                          kept unless it names the patient
//	Message   UIDs inside replaced              kept
//	Patient   column absent                     column absent
const (
	Keep Rule = iota
	UID
	Code
	Device
	Person
	Path
	Stamp
	Period
	Words
	Message
	Patient
)

// Meaning says in the codebook what the rule does to a column, empty for Keep and
// for messages.
func (r Rule) Meaning() string {
	switch r {
	case UID:
		return "Identity none: replaced by a keyed pseudonym 2.25.<128 bits as a decimal>, the same throughout."
	case Code:
		return "Identity none: a keyed pseudonym."
	case Device:
		return "Identity none: the serial number is a keyed pseudonym."
	case Person:
		return "Identity study: \"person 1\", \"person 2\" … in the order of their first study; none: keyed pseudonyms; full: names."
	case Path:
		return "Identity study: folders and files named after the patient read \"(withheld)\"; none: a keyed pseudonym."
	case Stamp:
		return "Identity none: shifted back by 1 to 52 whole weeks, the same for all studies of a patient."
	case Period:
		return "Identity none: absent, because dates are shifted by another number of weeks for every patient."
	case Words:
		return "Identity study: \"(withheld)\" where it holds the patient's name, id or birth date; none: left out, unless it is the meaning of a code of a public scheme."
	case Patient:
		return "With identity full only."
	}
	return ""
}
