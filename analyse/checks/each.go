package checks

import (
	"cmp"
	"context"
	"runtime"
	"slices"

	"golang.org/x/sync/errgroup"

	"leadline/analyse"
)

// Each judges the studies, as many at once as there are processors, and returns
// their findings in the order of the studies. The error is the context's only.
func Each(ctx context.Context, studies []*analyse.Study, judge func(*analyse.Study) []analyse.Finding) ([]analyse.Finding, error) {
	findings := make([][]analyse.Finding, len(studies))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, s := range studies {
		group.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			findings[i] = survived(s, judge)
			return nil
		})
	}
	err := group.Wait()
	return slices.Concat(findings...), err
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

// Sort orders findings: the most severe first, then by id, study, image and message.
func Sort(findings []analyse.Finding) {
	slices.SortStableFunc(findings, func(a, b analyse.Finding) int {
		return cmp.Or(cmp.Compare(a.Severity.Rank(), b.Severity.Rank()), cmp.Compare(a.ID, b.ID),
			cmp.Compare(a.StudyUID, b.StudyUID), cmp.Compare(a.SOPUID, b.SOPUID),
			cmp.Compare(a.Path, b.Path), cmp.Compare(a.Message, b.Message))
	})
}
