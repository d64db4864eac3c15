// Package terms compares the words that files and people use: labels, coded
// concepts of old and new editions, and misspelt words of a small vocabulary.
//
// It knows no vocabulary itself: those lie beside what they name, as data.
package terms
