package deid

import "fmt"

// Identity says how much of who and where may leave the program.
type Identity string

// The identities. Study keeps what finds a study again (UIDs, study id, accession
// number, dates, device serials) and numbers people. None replaces all of these
// by keyed pseudonyms. Full adds patient columns and names.
const (
	None  Identity = "none"
	Study Identity = "study"
	Full  Identity = "full"
)

// Identities lists the identities, the most guarded first.
var Identities = []Identity{None, Study, Full}

// ParseIdentity reads an identity as written on the command line.
func ParseIdentity(s string) (Identity, error) {
	for _, id := range Identities {
		if s == string(id) {
			return id, nil
		}
	}
	return "", fmt.Errorf("reading the identity: expected none, study or full")
}

// Meaning says in one sentence what a reader of the output should know.
func (id Identity) Meaning() string {
	switch id {
	case None:
		return "Identity none: UIDs, study ids, accession numbers, device serials, people and paths are keyed pseudonyms; dates are shifted, by the same whole weeks for all studies of a patient."
	case Full:
		return "Identity full: THIS OUTPUT CONTAINS PATIENT NAMES, IDS AND BIRTH DATES and names of staff. Keep and share it as you would the patient record."
	}
	return "Identity study: no patient columns, people appear as numbers; UIDs, study ids, accession numbers, dates and device serials are kept so that a study can be found again. Still personal data: keep it inside."
}
