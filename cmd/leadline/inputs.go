package main

import (
	"fmt"

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
	run := audit.Options{Since: o.since, Until: o.until, Inputs: paths, ProtocolsNamed: len(o.protocols) > 0}
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
	if run.References, err = loadReferences(o.references, run.Measures); err != nil {
		return run, err
	}
	run.Acoustic, err = loadLimits(o.limits)
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

func loadCalipers(files []string) ([]ingest.CaliperRow, error) {
	var all []ingest.CaliperRow
	for _, file := range files {
		rows, err := ingest.ReadCalipers(file)
		if err != nil {
			return nil, fmt.Errorf("reading a caliper table: %w", err)
		}
		all = append(all, rows...)
	}
	return all, nil
}

func loadMeasures(files []string) (*measures.Catalogue, error) {
	var all []ingest.MeasureRow
	for _, file := range files {
		rows, err := ingest.ReadMeasures(file)
		if err != nil {
			return nil, fmt.Errorf("reading a table of measures: %w", err)
		}
		all = append(all, rows...)
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
	var all []ingest.ReferenceRow
	for _, name := range names {
		rows, err := ingest.ReadReferences(name)
		if err != nil {
			return nil, fmt.Errorf("reading a reference table: %w", err)
		}
		all = append(all, rows...)
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
