package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"leadline/analyse/acoustic"
	"leadline/analyse/audit"
	"leadline/analyse/calib"
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
	if run.Acoustic, err = loadLimits(o.limits); err != nil {
		return run, err
	}
	run.MinCell = o.minCell
	run.Earlier, err = loadEarlier(o.compare, run.Protocols)
	return run, err
}

// load reads the test object and the tables that the flags name.
func (o *calibrationOptions) load(paths []string) (calib.Options, error) {
	run := calib.Options{Since: o.since, Until: o.until, Inputs: paths}
	var err error
	if run.Measures, err = loadMeasures(o.measures); err != nil {
		return run, err
	}
	if run.TestObject, err = loadTestObject(o.phantom, run.Measures); err != nil {
		return run, err
	}
	if run.Calipers, err = loadCalipers(o.calipers); err != nil {
		return run, err
	}
	if run.Labels, err = loadLabels(o.labels); err != nil {
		return run, err
	}
	run.Acoustic, err = loadLimits(o.limits)
	return run, err
}

// loadLimits reads a table of acoustic limits, the built-in one where none is named.
func loadLimits(name string) (*acoustic.Limits, error) {
	if name == "" {
		name = ingest.BuiltinLimits
	}
	rows, err := ingest.ReadAcousticLimits(name)
	if err != nil {
		return nil, fmt.Errorf("reading a table of acoustic limits: %w", err)
	}
	return acoustic.New(rows), nil
}

// loadTestObject reads a test object and wants its measures to be known lengths; nil
// where no file is named.
func loadTestObject(name string, words *measures.Catalogue) (*protocol.TestObject, error) {
	if name == "" {
		return nil, nil
	}
	o, err := protocol.LoadTestObject(name)
	if err != nil {
		return nil, err
	}
	return o, calib.CheckTestObject(o, words)
}

// loadEarlier reads the tables of earlier audits. One that was held against none of
// the protocols of this one has nothing to compare.
func loadEarlier(dirs []string, protocols []*protocol.Protocol) ([]*ingest.EarlierAudit, error) {
	var all []*ingest.EarlierAudit
	for _, dir := range dirs {
		a, err := ingest.ReadEarlier(dir)
		if err != nil {
			return nil, fmt.Errorf("reading an earlier audit (--compare takes the folder that it wrote by --tables): %w", err)
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
	return loadRows(files, "caliper table", func(path string) ([]ingest.CaliperRow, error) {
		rows, err := ingest.ReadCalipers(path)
		for i := range rows {
			rows[i].Table = nameOfTable(files, path)
		}
		return rows, err
	})
}

func loadLabels(files []string) ([]ingest.LabelRow, error) {
	return loadRows(files, "study table", func(path string) ([]ingest.LabelRow, error) {
		rows, err := ingest.ReadLabels(path)
		for i := range rows {
			rows[i].Table = nameOfTable(files, path)
		}
		return rows, err
	})
}

// nameOfTable is what the output calls a table that a person wrote: its number among
// those of its kind on the command line. Its path may be named after a patient.
func nameOfTable(files []string, path string) string {
	return strconv.Itoa(slices.Index(files, path) + 1)
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
