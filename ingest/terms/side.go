package terms

import (
	_ "embed"
	"sync"
)

// sidesCSV lists words for left, right and both in English, German, French and
// Spanish; words of the trade, no source beyond common practice.
//
//go:embed sides.csv
var sidesCSV string

var sides = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, row := range table(sidesCSV) {
		m[Normal(row[0])] = row[1]
	}
	return m
})

// Side tells which side a word means: left, right or bilateral.
func Side(word string) (side string, ok bool) {
	side, ok = sides()[Normal(word)]
	return side, ok
}
