package main

import (
	"fmt"
	"slices"
	"strings"

	"leadline/analyse/audit"
	"leadline/analyse/measures"
	"leadline/analyse/references"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// load reads the protocols and the tables that the flags name.
func (o *auditOptions) load(paths []string) (audit.Options, error) {
	run := audit.Options{Since: o.since, Until: o.until, Inputs: paths, ProtocolsNamed: len(o.protocols) > 0, LetGo: true}
	names := o.protocols
	if len(names) == 0 {
		names = protocol.Defaults()
	}
	var err error
	if run.Measures, err = loadMeasures(o.measures); err != nil {
		return run, err
	}
	if run.Protocols, err = loadProtocols(names, run.Measures); err != nil {
		return run, err
	}
	if run.Calipers, err = loadCalipers(o.calipers); err != nil {
		return run, err
	}
	if run.Labels, err = loadLabels(o.labels); err != nil {
		return run, err
	}
	if run.References, err = loadReferences(o.references, run.Measures); err != nil {
		return run, err
	}
	run.MinCell = o.minCell
	run.Earlier, err = loadEarlier(o.compare, run.Protocols)
	return run, err
}

// loadEarlier reads the tables of earlier audits. One that was held against none of
// the protocols of this one has nothing to compare.
func loadEarlier(dirs []string, protocols []*protocol.Protocol) ([]*ingest.EarlierAudit, error) {
	var all []*ingest.EarlierAudit
	for _, dir := range dirs {
		a, err := ingest.ReadEarlier(dir)
		if err != nil {
			return nil, fmt.Errorf("reading an earlier audit: %w", err)
		}
		if !sharesProtocol(a, protocols) {
			return nil, &usageError{fmt.Sprintf("--compare %s: none of its studies was held against %s; name the protocols that it was done with by --protocol", dir, protocolNames(protocols))}
		}
		all = append(all, a)
	}
	return all, nil
}

func sharesProtocol(a *ingest.EarlierAudit, protocols []*protocol.Protocol) bool {
	for i := range a.Studies {
		for _, item := range a.Studies[i].Items {
			if slices.ContainsFunc(protocols, func(p *protocol.Protocol) bool { return p.Name == item.Protocol }) {
				return true
			}
		}
	}
	return false
}

func protocolNames(protocols []*protocol.Protocol) string {
	names := make([]string, len(protocols))
	for i, p := range protocols {
		names[i] = p.Name
	}
	return strings.Join(names, " or ")
}

func loadCalipers(files []string) ([]ingest.CaliperRow, error) {
	return loadRows(files, "caliper table", ingest.ReadCalipers)
}

func loadLabels(files []string) ([]ingest.LabelRow, error) {
	return loadRows(files, "study table", ingest.ReadLabels)
}

// loadRows joins the rows of several tables of a kind.
func loadRows[Row any](files []string, kind string, read func(string) ([]Row, error)) ([]Row, error) {
	var all []Row
	for _, file := range files {
		rows, err := read(file)
		if err != nil {
			return nil, fmt.Errorf("reading a %s: %w", kind, err)
		}
		all = append(all, rows...)
	}
	return all, nil
}

func loadMeasures(files []string) (*measures.Catalogue, error) {
	all, err := loadRows(files, "table of measures", ingest.ReadMeasures)
	if err != nil {
		return nil, err
	}
	words, err := measures.Builtin().Extended(all)
	if err != nil {
		return nil, fmt.Errorf("reading a table of measures: %w", err)
	}
	return words, nil
}

func loadReferences(names []string, words *measures.Catalogue) (*references.Table, error) {
	if len(names) == 0 {
		names = []string{ingest.BuiltinReferences}
	}
	all, err := loadRows(names, "reference table", ingest.ReadReferences)
	if err != nil {
		return nil, err
	}
	table, err := audit.References(all, words)
	if err != nil {
		return nil, fmt.Errorf("reading a reference table: %w", err)
	}
	return table, nil
}

// loadProtocol reads a protocol and wants its measures and indices to be known.
func loadProtocol(name string, words *measures.Catalogue) (*protocol.Protocol, error) {
	p, err := protocol.Load(name)
	if err != nil {
		return nil, err
	}
	return p, audit.CheckProtocol(p, words)
}

func loadProtocols(names []string, words *measures.Catalogue) ([]*protocol.Protocol, error) {
	var all []*protocol.Protocol
	taken := map[string]string{}
	for _, name := range names {
		p, err := loadProtocol(name, words)
		if err != nil {
			return nil, err
		}
		if before, ok := taken[p.Name]; ok {
			return nil, &usageError{fmt.Sprintf("--protocol %s: its name %s is that of %s; give it a name of its own", name, p.Name, before)}
		}
		taken[p.Name] = name
		all = append(all, p)
	}
	return all, nil
}
