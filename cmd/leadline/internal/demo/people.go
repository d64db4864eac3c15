package demo

import (
	"fmt"
	"math/rand/v2"
	"time"
)

// Everybody here is invented. Names, numbers, birth dates and phrases are words
// that occur nowhere else, so that a test can look for them in any output.

var surnames = []string{
	"Brackenthal", "Ilvermoor", "Quellhaven", "Oskarsdal", "Vexholm", "Marrowick", "Zimtglas", "Hollerbrand",
	"Fjordlund", "Wispelwei", "Kőrösfalvy", "Drosselbart", "Umberleigh", "Gansevold", "Pfefferkamp", "Tamarindo",
	"Skjoldrup", "Abendstern", "Lindqvarn", "Ravnsborough", "Cinderwell", "Mühlenast", "Eiderstrand", "Nachtviol",
	"Yarrowgate", "Bellmontée", "Sturmhagen", "Thistlecomb", "Orchardine", "Weidenfell", "Jasminska", "Kupferberg",
}

var mothers = []string{
	"Wrenna", "Elowyne", "Solveiga", "Marisolde", "Juniperra", "Ottilka", "Feodorine", "Calluna",
	"Tindra", "Amarantha", "Perpetue", "Zdislava", "Hyacintha", "Brynhilda", "Noorlight", "Sunniva",
	"Aurelise", "Philippina", "Gundula", "Leontyne", "Xanthippe", "Rosamunde", "Dagmarit", "Violanta",
	"Eufemia", "Kunigund", "Ludmilka", "Marguerin", "Theodolind", "Walburgis", "Ysoldea", "Zephyrine",
}

// phrases are the free texts of reports and comments.
var phrases = []string{
	"settled in a lambswool nest while scanning",
	"grandmother hummed throughout the examination",
	"crib by the herb garden window",
	"twin sister examined on the neighbouring ward",
	"father asked about the colour pictures twice",
	"hiccups during the last three clips",
	"transferred from the lighthouse clinic overnight",
	"mother's knitted cap left on for warmth",
}

var operators = []string{"Quistgaard^Ines", "Vantongeren^Milo", "Achterberg^Runa", "Szentmihályi^Dora"}

var reader = "Lysholt^Birgitta"

// patient is one newborn of the month.
type patient struct {
	surname, mother, id string
	birth               time.Time
	sex                 string
	weightKg, sizeM     float64
	phrase              string
}

func (p patient) name() string { return p.surname + "^Baby of " + p.mother }

// newPatient invents the patient of an ordinal. Births fall into August 2026, so
// that no birth date is also the date of a study.
func newPatient(r *rand.Rand, ordinal int) patient {
	born := time.Date(2026, time.August, 1+r.IntN(31), r.IntN(24), r.IntN(60), 0, 0, time.UTC)
	weight := 0.9 + 3*r.Float64()
	return patient{
		surname:  surnames[ordinal%len(surnames)],
		mother:   mothers[(ordinal*7+ordinal/len(surnames))%len(mothers)],
		id:       fmt.Sprintf("NHV-%05d-K", 70211+37*ordinal),
		birth:    born,
		sex:      []string{"F", "M"}[r.IntN(2)],
		weightKg: float64(int(weight*100)) / 100,
		sizeM:    float64(int(100*(0.34+0.05*weight))) / 100,
		phrase:   phrases[ordinal%len(phrases)],
	}
}

// tokens are the words that identify the patient.
func (p patient) tokens() []string {
	return []string{
		p.name(), p.surname, "Baby of " + p.mother, p.id,
		p.birth.Format("20060102"), p.birth.Format("2006-01-02"), p.phrase,
	}
}

// age is the age at a time as an AS value (PS3.5 6.2): days, as for all newborns.
func (p patient) age(at time.Time) string {
	return fmt.Sprintf("%03dD", max(0, int(at.Sub(p.birth).Hours()/24)))
}
