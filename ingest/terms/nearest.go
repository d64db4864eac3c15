package terms

import "strings"

// leastBeginning is how many letters a beginning needs to stand for a longer word.
const leastBeginning = 4

// Nearest is the word of known that is written most like word: at most a third of
// the letters, or two, would have to change. Else it is the shortest that word is the
// beginning of, as within is of within-hours; empty where there is none either.
// Equally near words keep the order of known.
func Nearest(word string, known []string) string {
	if near := respelt(word, known); near != "" || len([]rune(word)) < leastBeginning {
		return near
	}
	best := ""
	for _, k := range known {
		if strings.HasPrefix(k, word) && (best == "" || len(k) < len(best)) {
			best = k
		}
	}
	return best
}

// respelt is the word that word may be a slip of; of two as near the one that begins
// alike.
func respelt(word string, known []string) string {
	best, least := "", max(2, len([]rune(word))/3)+1
	first := word[:min(1, len(word))]
	for _, k := range known {
		d := distance([]rune(word), []rune(k), least+1)
		if d < least || d == least && best != "" && !strings.HasPrefix(best, first) && strings.HasPrefix(k, first) {
			best, least = k, d
		}
	}
	return best
}

// distance is the number of letters to insert, delete, replace or swap with a
// neighbour to turn a into b (restricted Damerau-Levenshtein), or at least limit
// where it is more than that.
func distance(a, b []rune, limit int) int {
	if abs(len(a)-len(b)) >= limit {
		return limit
	}
	before, last := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range a {
		row := make([]int, len(b)+1)
		row[0] = i + 1
		for j := range b {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, last[j]+cost)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
