// Package protocol reads protocol files: what one kind of study must hold to count
// as complete. It checks the file wholly, with file, line, column, what was
// expected and the nearest valid word, and judges no study; analyse/completeness
// does.
//
// # The language
//
// A protocol is one YAML document of at most 1 MiB without anchors, aliases and
// tags. builtin/newborn-heart-function.yaml is the annotated example. Keys of the
// document:
//
//	language  1, the language described here
//	name      lower-case letters, digits and hyphens
//	version   any text, yours to count
//	title     one line
//	extends   a built-in protocol, or a file beside this one: all that is not given
//	          here is taken from there (optional)
//	drop      ids of its items to be left out (beside extends only)
//	note      free text (optional)
//	sources   id: text; every item names one or more
//	when      which studies it is for; see When
//	items     the list of items
//
// A file that extends another gives its own language, name, version and title. A
// key given takes the place of the other's, save sources, which are added, and
// items: one with the id of an item there changes the keys that it gives (kind or
// any-of: the whole rule), any other follows. What extends nothing is whole.
//
// Under when, devices, min-age-days and max-age-days narrow what the lists find.
//
// Keys of every item:
//
//	id, title, sources
//	need         required (default) or preferred; preferred never counts
//	severity     error, warning (default) or note: how much it matters that a
//	             required item is missing or partial
//	if           asked only where the study has: measure, an image of view,
//	             view-names or view-codes (lists: any of them), and fact; all that
//	             are given must hold
//	note, alternative   free text, shown beside the result
//	kind and its keys, or any-of: a list of kinds with their keys, one of which
//	             meets the item
//
// Keys of each kind:
//
//	header   fact; min, max (facts that are numbers, in the unit of the fact)
//	image    view (one or a list), view-names, view-codes (as devices write them;
//	         one of the three), mode, type (clip, still or any), side (left,
//	         right), count, min-seconds, min-frames, min-frame-rate (a second; these
//	         three of clips only), min-depth-mm, max-depth-mm, calibrated
//	measure  measure (one or a list), side, count, plane (2d, m-mode, spectral, pw,
//	         cw), in-report, with-caliper, calibrated
//	index    index
//	report   state (any, complete or verified), within-hours
//
// count is 1 where it is left out. Words are those of Facts, Modes, Views and of
// the catalogue of measures (analyse/measures).
package protocol
