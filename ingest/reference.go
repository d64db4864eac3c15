package ingest

// ReferenceRow is one row of a reference table: published or local limits of a
// measure or an index, for one population.
type ReferenceRow struct {
	// Table and Line are the place of the row.
	Table string
	Line  int
	// ID is that of a measure or an index; whether it is known is judged later.
	ID string
	// Population says in words whom the limits were made from.
	Population string
	// AgeDays, WeightKg, GestationWeeks (at birth, completed weeks) and
	// PostmenstrualWeeks bound the population; absent is any.
	AgeDays, WeightKg, GestationWeeks, PostmenstrualWeeks Span
	// Low and High are the limits in Unit, at least one of them.
	Low, High Optional[float64]
	Unit      string
	// Limits says what the limits are, e.g. mean ± 2 SD; Source where they were
	// printed.
	Limits, Source string
}

// Span is a stretch of ages, weights or weeks: From belongs to it, To does not, so
// that rows of a chart can follow each other without gap or overlap. An absent end
// is open.
type Span struct{ From, To Optional[float64] }

// Any tells a span that bounds nothing.
func (s Span) Any() bool { return !s.From.Set && !s.To.Set }
