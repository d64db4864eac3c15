// Package audit calls the other stages in order: studies are assembled, calipers
// handed to them, measurements rebuilt, indices derived and held against reference
// tables, protocols applied and checks asked. It computes nothing itself but counts.
package audit

import (
	"context"
	"fmt"
	"slices"
	"time"

	"leadline/analyse"
	"leadline/analyse/acoustic"
	"leadline/analyse/actions"
	"leadline/analyse/agreement"
	"leadline/analyse/assemble"
	"leadline/analyse/checks"
	"leadline/analyse/clocks"
	"leadline/analyse/completeness"
	"leadline/analyse/indices"
	"leadline/analyse/measures"
	"leadline/analyse/pictures"
	"leadline/analyse/rebuild"
	"leadline/analyse/references"
	"leadline/analyse/timing"
	"leadline/analyse/views"
	"leadline/ingest"
	"leadline/ingest/presentation"
	"leadline/ingest/protocol"
)

// Options are the settings of Run.
type Options struct {
	Protocols []*protocol.Protocol
	// ProtocolsNamed tells that someone asked for these protocols: one that applies
	// to no study is then a finding.
	ProtocolsNamed bool
	Calipers       []ingest.CaliperRow
	// Labels say what images show, where their headers do not.
	Labels []ingest.LabelRow
	// Measures are those that codes and labels lead to; nil are those that come with
	// the program.
	Measures *measures.Catalogue
	// References are the limits that values are held against; nil holds them
	// against none.
	References *references.Table
	// Acoustic are the limits that output indices are held against; nil holds them
	// against none.
	Acoustic *acoustic.Limits
	// Since and Until keep the studies of these days and between; zero is open.
	// A study without a date is kept.
	Since, Until time.Time
	// Earlier are audits done before, for the trend and the difference.
	Earlier []*ingest.EarlierAudit
	// MinCell is the least count that tables of many studies may show; below 2 they
	// show all.
	MinCell int
	// LetGo tells that the archive is not used again: what of its reports and
	// presentation states nobody needs once a study is judged is let go, a third of
	// what an archive with calipers takes.
	LetGo bool
	// Inputs are the paths that were read, for the overview.
	Inputs []string
	// FirstFrame unpacks pictures; nil where none shall be looked at.
	FirstFrame pictures.Source
}

// Run audits an archive. The result is the same for the same archive and options,
// in whatever order files were read. Errors are the context's only.
func Run(ctx context.Context, archive *ingest.Archive, opts Options) (*analyse.Result, error) {
	result := assemble.Result(archive, opts.Inputs, assemble.Period{Since: opts.Since, Until: opts.Until})
	tables, lost := tablesOf(opts, archive)
	result.Pictures = opts.FirstFrame != nil
	var texts repeated
	findings, err := checks.Each(ctx, result.Studies, func(s *analyse.Study) []analyse.Finding {
		findings := study(s, opts, tables)
		texts.share(s, findings)
		return findings
	})
	if err != nil {
		return nil, err
	}
	result.Protocols = useOf(opts.Protocols, result.Studies)
	result.Agreement = agreement.Of(result.Studies)
	result.Month = monthOf(result, opts)
	result.Clocks = clocks.Of(result.Studies)
	result.Findings = collect(result, findings, directoryFindings(archive), unusedProtocols(result, opts), lost)
	result.Actions = actions.Of(result, checks.All)
	return result, nil
}

// study fills one study and returns its findings.
func study(s *analyse.Study, opts Options, tables tables) []analyse.Finding {
	if opts.FirstFrame != nil {
		pictures.Read(s, opts.FirstFrame)
	}
	views.Settle(s, tables.labels[s.UID])
	s.Timing = timing.Of(s)
	calipers := tables.calipers[s.UID]
	s.Measurements = rebuild.Measurements(s, calipers, opts.Measures)
	if s.Uncertainty = uncertaintyOf(s, opts.Protocols); s.Uncertainty.Protocol != "" {
		s.Measurements = rebuild.Measurements(s, calipers, opts.Measures)
	}
	s.Indices = indices.Derive(s)
	opts.References.Apply(s)
	opts.Acoustic.Apply(s)
	for _, p := range opts.Protocols {
		items, applies := completeness.Apply(s, p)
		if !applies {
			continue
		}
		for i := range items {
			s.Items = append(s.Items, &items[i])
		}
		s.Totals.Protocols = append(s.Totals.Protocols, p.Name)
	}
	findings := checks.Run(s)
	total(s, findings)
	if opts.LetGo {
		letGo(s)
	}
	return findings
}

// letGo drops the contents of reports and presentation states, from which the
// measurements were made; their state and their times stay.
func letGo(s *analyse.Study) {
	for _, r := range s.Reports {
		r.Report.Numerics, r.Report.Statements, r.Report.Images = nil, nil, nil
	}
	for _, p := range s.Presentations {
		p.Presentation = &presentation.State{}
	}
}

// useOf counts the studies that each protocol applied to, and those complete by it.
func useOf(protocols []*protocol.Protocol, studies []*analyse.Study) []analyse.ProtocolUse {
	uses := make([]analyse.ProtocolUse, len(protocols))
	for i, p := range protocols {
		uses[i] = analyse.ProtocolUse{Name: p.Name, Title: p.Title, Version: p.Version, Sources: p.Sources}
		for _, s := range studies {
			if !slices.Contains(s.Totals.Protocols, p.Name) {
				continue
			}
			uses[i].Applied++
			if complete(s.Items, p.Name) {
				uses[i].Complete++
			}
		}
	}
	return uses
}

// collect adds the findings of the archive, to which those of its media directories,
// of the protocols and of tables belong, to those of the studies and sorts them.
func collect(result *analyse.Result, ofStudies [][]analyse.Finding, ofArchive ...[]analyse.Finding) []analyse.Finding {
	lists := append(ofStudies, ledgerFindings(result.Ledger))
	lists = append(append(lists, ofArchive...), checks.OfArchive(result.Studies))
	return checks.Sorted(lists...)
}

// unusedProtocols are findings about protocols that someone asked for and that
// applied to nothing.
func unusedProtocols(result *analyse.Result, opts Options) []analyse.Finding {
	var findings []analyse.Finding
	for _, use := range result.Protocols {
		if use.Applied == 0 && opts.ProtocolsNamed {
			findings = append(findings, checks.Stamp(&checks.ProtocolUnused, analyse.Finding{
				Message: fmt.Sprintf("protocol %s applied to none of %s", use.Name, analyse.Counted(len(result.Studies), "study", "studies"))}))
		}
	}
	return findings
}

// ledgerChecks are the outcomes of the ledger that are findings.
var ledgerChecks = map[ingest.Outcome]*analyse.Check{
	ingest.OutcomeUnreadable: &checks.FileUnreadable,
	ingest.OutcomeConflict:   &checks.InstanceConflict,
	ingest.OutcomeDuplicate:  &checks.InstanceDuplicate,
}

func ledgerFindings(ledger []ingest.Entry) []analyse.Finding {
	var findings []analyse.Finding
	for _, e := range ledger {
		if c := ledgerChecks[e.Outcome]; c != nil {
			findings = append(findings, checks.Stamp(c, analyse.Finding{
				StudyUID: e.StudyUID, SOPUID: e.SOPUID, Path: e.Path, Message: e.Reason}))
		}
	}
	return findings
}
