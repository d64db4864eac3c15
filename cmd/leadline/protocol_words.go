package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"leadline/analyse/indices"
	"leadline/analyse/measures"
	"leadline/ingest/protocol"
)

func newProtocolsWordsCommand(to streams) *cobra.Command {
	var own []string
	cmd := &cobra.Command{
		Use:   "words",
		Short: "List the views, measures, facts and indices that a protocol may name",
		Long: `Lists the words that a protocol may use: every view with names that devices and
people write for it, every fact of the header with its unit, every measure with its
unit and the plane it is usually taken in, every index.`,
		Example: `  leadline protocols words
  leadline protocols words | grep coronal`,
		Args: cobra.NoArgs,
		RunE: returning(func(*cobra.Command, []string) error { return printWords(to.out, own) }),
	}
	cmd.Flags().StringArrayVar(&own, "measures", nil, "measures of your own that a protocol may name, a `FILE` in CSV; repeatable")
	return document(cmd, exitDone, exitUsage, exitNothing)
}

// usualPlane says where a measure is usually taken, where the catalogue says so.
func usualPlane(p measures.Plane) string {
	if p == measures.PlaneAny {
		return ""
	}
	return ", usually taken in " + string(p)
}

// printWords prints one word a line: its kind, the word, what it means.
func printWords(out io.Writer, own []string) error {
	words, err := loadMeasures(own)
	if err != nil {
		return err
	}
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, v := range protocol.Views() {
		fmt.Fprintf(table, "view\t%s\t%s\n", v.ID, strings.Join(v.Names, ", "))
	}
	for _, fact := range protocol.Facts {
		fmt.Fprintf(table, "fact\t%s\t%s\n", fact, protocol.FactUnit(fact))
	}
	for _, m := range words.All() {
		fmt.Fprintf(table, "measure\t%s\t%s, %s%s\n", m.ID, m.Title, m.Unit, usualPlane(m.Plane))
	}
	for _, x := range indices.All {
		fmt.Fprintf(table, "index\t%s\t%s, %s\n", x.ID, x.Title, x.Unit)
	}
	return table.Flush()
}
