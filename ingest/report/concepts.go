package report

import "leadline/ingest/dcm"

// The value types that are read (PS3.3 C.17.3.2.1).
const (
	typeContainer = "CONTAINER"
	typeNumber    = "NUM"
	typeCode      = "CODE"
	typeText      = "TEXT"
	typePerson    = "PNAME"
	typeImage     = "IMAGE"
	typeGraphic   = "SCOORD"
)

// The relationship types that matter here (PS3.3 C.17.3.2.4).
const (
	relationModifier = "HAS CONCEPT MOD"
	relationAcquired = "HAS ACQ CONTEXT"
	relationProperty = "HAS PROPERTIES"
	relationObserved = "HAS OBS CONTEXT"
	relationInferred = "INFERRED FROM"
)

// modifies tells whether an item so related says something about the item above.
func modifies(relation string) bool {
	return relation == relationModifier || relation == relationAcquired || relation == relationProperty
}

// qualifies tells whether a number so related is no measurement of its own: the
// rows of an image, the normal range of a value, a Doppler angle.
func qualifies(relation string) bool { return modifies(relation) || relation == relationObserved }

// The concepts that are looked for, all of scheme DCM (PS3.16 Annex D; checked
// against python3-pydicom's copy).
const (
	conceptImageView       = "111031"
	conceptObserverType    = "121005"
	conceptObserverName    = "121008"
	conceptSubjectName     = "121029"
	conceptCountry         = "121046"
	conceptLanguage        = "121049"
	conceptTrackingID      = "112039"
	conceptPathVertex      = "121230"
	conceptSelectionStatus = "121404"
	conceptShortLabel      = "125309"
	schemeDCM              = "DCM"
)

func isDCM(c dcm.Code, value string) bool { return c.Is(value, schemeDCM) }

// isLanguage tells the concepts that name the language of a report, which say
// nothing about a measurement.
func isLanguage(c dcm.Code) bool { return isDCM(c, conceptLanguage) || isDCM(c, conceptCountry) }
