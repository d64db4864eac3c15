package month

import (
	"cmp"
	"fmt"
	"iter"
	"slices"
	"strings"
	"time"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/terms"
)

// atHand is the audit at hand among the audits of entries; the earlier ones are
// numbered from 0 as in Month.Earlier.
const atHand = -1

// entry is one study as far as this package looks at it.
type entry struct {
	uid               string
	at                ingest.Stamp
	week, month       string
	audit             int
	durationS, delayH ingest.Optional[float64]
	reported          bool
	device            *ingest.Device
	deviceName, unit  string
	operators         []string
	// Of the next two at most one is set.
	items   []*analyse.ItemResult
	earlier []ingest.EarlierItem
}

// entries lists the studies of all audits in the order of time, each study once: as
// the latest audit has it that holds it.
func entries(studies []*analyse.Study, earlier []*ingest.EarlierAudit) ([]*entry, []analyse.EarlierAudit) {
	var all []*entry
	met := map[string]bool{}
	for _, s := range studies {
		met[s.UID] = true
		all = append(all, entryOf(s))
	}
	ordered := slices.Clone(earlier)
	slices.SortStableFunc(ordered, func(a, b *ingest.EarlierAudit) int { return latest(a).Compare(latest(b)) })
	uses := make([]analyse.EarlierAudit, len(ordered))
	for i := len(ordered) - 1; i >= 0; i-- {
		uses[i] = analyse.EarlierAudit{Name: ordered[i].Dir, Studies: len(ordered[i].Studies), Previous: i == len(ordered)-1}
		for j := range ordered[i].Studies {
			s := &ordered[i].Studies[j]
			if met[s.UID] {
				uses[i].Again++
				continue
			}
			met[s.UID] = true
			all = append(all, earlierEntry(s, i))
		}
	}
	for _, e := range all {
		if !e.at.IsZero() {
			year, week := e.at.Reading().ISOWeek()
			e.week, e.month = fmt.Sprintf("%04d-W%02d", year, week), e.at.Reading().Format("2006-01")
		}
	}
	slices.SortStableFunc(all, func(a, b *entry) int {
		return cmp.Or(a.at.Reading().Compare(b.at.Reading()), cmp.Compare(a.uid, b.uid))
	})
	return all, uses
}

// latest is the last day of an audit.
func latest(a *ingest.EarlierAudit) time.Time {
	var last time.Time
	for i := range a.Studies {
		if t := a.Studies[i].Start.T; t.After(last) {
			last = t
		}
	}
	return last
}

func entryOf(s *analyse.Study) *entry {
	e := &entry{
		uid: s.UID, at: s.Start, audit: atHand, durationS: s.DurationS, delayH: s.Totals.ReportDelayH,
		reported: s.Totals.ReportState != "" && s.Totals.ReportState != analyse.ReportNone,
		items:    s.Items, operators: people(s.Operators),
	}
	if len(s.Devices) > 0 {
		e.device, e.deviceName = s.Devices[0], s.Device
	}
	e.unit = unitOf(s, e.device)
	return e
}

func earlierEntry(s *ingest.EarlierStudy, audit int) *entry {
	return &entry{
		uid: s.UID, at: s.Start, audit: audit, durationS: s.DurationS, delayH: s.DelayH,
		reported: s.ReportState != "" && s.ReportState != analyse.ReportNone, earlier: s.Items,
	}
}

// unitOf names the hospital's unit: institution and department as far as the header
// gives them, and where it gives no department the station name of the device, which
// often is that of a ward (common practice, no source).
func unitOf(s *analyse.Study, d *ingest.Device) string {
	place := s.Header.Department
	if place == "" && d != nil {
		place = d.Station
	}
	switch {
	case s.Header.Institution == "":
		return place
	case place == "":
		return s.Header.Institution
	}
	return s.Header.Institution + ", " + place
}

// people lists each of the operators once, by the first writing of the name.
func people(names []string) []string {
	var out []string
	met := map[string]bool{"": true}
	for _, name := range strings.Split(strings.Join(names, terms.PersonSeparator), terms.PersonSeparator) {
		if key := terms.Person(name); !met[key] {
			met[key] = true
			out = append(out, name)
		}
	}
	return out
}

// mark is one item of a study.
type mark struct {
	protocol, item, title string
	required              bool
	status                analyse.ItemStatus
}

// marks are the items of the study, whatever audit it is of.
func (e *entry) marks() iter.Seq[mark] {
	return func(yield func(mark) bool) {
		for _, it := range e.items {
			if !yield(mark{it.Protocol, it.Item, it.Title, it.Required, it.Status}) {
				return
			}
		}
		for _, it := range e.earlier {
			if !yield(mark{it.Protocol, it.Item, "", it.Required, analyse.ItemStatus(it.Status)}) {
				return
			}
		}
	}
}
