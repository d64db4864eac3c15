// Package views settles which view and modes each image of a study shows, where its
// header leaves that open: by the labels that a person gave, by a text in a
// presentation state, or by a report. A label must be a word of the vocabulary of
// views as a whole; nothing is guessed from parts of it.
package views
