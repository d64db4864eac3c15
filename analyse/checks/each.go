package checks

import (
	"cmp"
	"context"
	"runtime"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"

	"leadline/analyse"
)

// Each judges the studies, as many at once as there are processors, and returns
// their findings study by study. The error is the context's only.
func Each(ctx context.Context, studies []*analyse.Study, judge func(*analyse.Study) []analyse.Finding) ([][]analyse.Finding, error) {
	findings := make([][]analyse.Finding, len(studies))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, s := range studies {
		group.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			findings[i] = slices.Clone(survived(s, judge)) // without the room that growing left
			return nil
		})
	}
	err := group.Wait()
	return findings, err
}

// survived judges one study; a panic in it becomes the study's own finding, not the
// end of the run. What the panic says may hold values of the study, and is not told.
func survived(s *analyse.Study, judge func(*analyse.Study) []analyse.Finding) (findings []analyse.Finding) {
	defer func() {
		if recover() != nil {
			findings = []analyse.Finding{Stamp(&StudyNotJudged, analyse.Finding{
				StudyUID: s.UID, Message: "an unexpected fault of the program while this study was judged; its rows are not complete"})}
			s.Totals.Errors = 1
		}
	}()
	return judge(s)
}

// OfArchive are the findings that only all studies together make. Those about one
// study are added to its counts, so it is called once.
func OfArchive(studies []*analyse.Study) []analyse.Finding {
	findings := ZonesMissing(studies)
	if message := BurnedInNotSaid(studies); message != "" {
		findings = append(findings, Stamp(&BurnedInUnknown, analyse.Finding{Message: message}))
	}
	if message := NotDecoded(studies); message != "" {
		findings = append(findings, Stamp(&PictureNotDecoded, analyse.Finding{Message: message}))
	}
	apart := DatesApart(studies)
	byUID := map[string][]analyse.Finding{}
	for _, f := range apart {
		byUID[f.StudyUID] = append(byUID[f.StudyUID], f)
	}
	for _, s := range studies {
		s.Totals.CountFindings(byUID[s.UID])
	}
	return append(findings, apart...)
}

// Sorted joins lists of findings, which are emptied: those of a year must not stand in
// memory twice. The most severe come first, then by id, study, image and message.
func Sorted(lists ...[]analyse.Finding) []analyse.Finding {
	n := 0
	for _, list := range lists {
		n += len(list)
	}
	findings := make([]analyse.Finding, 0, n)
	for i := range lists {
		findings, lists[i] = append(findings, lists[i]...), nil
	}
	sort(findings)
	return findings
}

func sort(findings []analyse.Finding) {
	slices.SortStableFunc(findings, func(a, b analyse.Finding) int {
		// No key is compared before the one ahead of it is alike: of a year they are many.
		switch {
		case a.Severity != b.Severity:
			return cmp.Compare(a.Severity.Rank(), b.Severity.Rank())
		case a.ID != b.ID:
			return strings.Compare(a.ID, b.ID)
		case a.StudyUID != b.StudyUID:
			return strings.Compare(a.StudyUID, b.StudyUID)
		case a.SOPUID != b.SOPUID:
			return strings.Compare(a.SOPUID, b.SOPUID)
		case a.Path != b.Path:
			return strings.Compare(a.Path, b.Path)
		}
		return strings.Compare(a.Message, b.Message)
	})
}
