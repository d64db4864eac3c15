// Package measures names what is measured: the catalogue of canonical measures
// (catalogue.yaml) and the way from a coded concept or a label onto one of them.
//
// What maps onto none stays under its own label; nothing is guessed. No measure
// carries a limit: those stand in the reference tables, with their population
// (analyse/references).
package measures
