package main

import (
	"fmt"
	"io"
	"slices"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"leadline/analyse"
	"leadline/analyse/indices"
	"leadline/ingest/protocol"
)

func newProtocolsCommand(to streams) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "protocols",
		Short: "List, print and check protocol files, print their words and schema",
		Long: `A protocol says what one kind of study must hold: images, measurements, header
facts, a report. Some are built in; print one, change the copy, check it, and give
it to audit with --protocol.`,
		Example: `  leadline protocols list
  leadline protocols print newborn-heart-function > harbour-ward.yaml
  leadline protocols check harbour-ward.yaml`,
		Args: cobra.NoArgs,
		RunE: showHelp,
	}
	cmd.AddCommand(
		document(&cobra.Command{
			Use:   "list",
			Short: "List the built-in protocols",
			Long: `Lists the built-in protocols, one a line: name, version, title, and whether audit
uses it where none is named.`,
			Example: `  leadline protocols list`,
			Args:    cobra.NoArgs,
			RunE:    returning(func(*cobra.Command, []string) error { return listProtocols(to.out) }),
		}, exitDone, exitUsage, exitNothing),
		document(&cobra.Command{
			Use:   "print NAME|FILE",
			Short: "Print a protocol as a file that stands alone",
			Long: `Prints a built-in protocol or a file, remarks included, to be copied and changed.
What a protocol takes from one that it extends is written out.`,
			Example: `  leadline protocols print newborn-heart-function > harbour-ward.yaml`,
			Args:    wants("the NAME of a built-in protocol, or a FILE", 1),
			RunE:    returning(func(_ *cobra.Command, args []string) error { return printProtocol(to.out, args[0]) }),
		}, exitDone, exitUsage, exitNothing),
		newProtocolsCheckCommand(to),
		newProtocolsSchemaCommand(to),
		newProtocolsWordsCommand(to),
	)
	return document(cmd, exitDone, exitUsage, exitNothing)
}

func newProtocolsCheckCommand(to streams) *cobra.Command {
	var own []string
	cmd := &cobra.Command{
		Use:   "check FILE",
		Short: "Check a protocol file",
		Long: `Checks a protocol file and names every fault with line, column and what was
expected there.`,
		Example: `  leadline protocols check harbour-ward.yaml`,
		Args:    wants("a protocol FILE", 1),
		RunE:    returning(func(_ *cobra.Command, args []string) error { return checkProtocol(to.out, args[0], own) }),
	}
	cmd.Flags().StringArrayVar(&own, "measures", nil, "measures of your own that the protocol may name, a `FILE` in CSV; repeatable")
	return document(cmd, exitDone, exitUsage, exitNothing)
}

func newProtocolsSchemaCommand(to streams) *cobra.Command {
	var own []string
	cmd := &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON Schema of protocol files",
		Long: `Prints the JSON Schema (draft 2020-12) of protocol files. An editor that knows of
such schemas completes words and marks faults while a protocol is written. What one
part of a file says of another is left to check.`,
		Example: `  leadline protocols schema > protocol.schema.json`,
		Args:    cobra.NoArgs,
		RunE:    returning(func(*cobra.Command, []string) error { return printSchema(to.out, own) }),
	}
	cmd.Flags().StringArrayVar(&own, "measures", nil, "measures of your own that the protocol may name, a `FILE` in CSV; repeatable")
	return document(cmd, exitDone, exitUsage, exitNothing)
}

func listProtocols(out io.Writer) error {
	all, err := loadProtocols(protocol.Builtins(), nil)
	if err != nil {
		return err
	}
	table := tabwriter.NewWriter(out, 0, 0, 3, ' ', 0)
	for _, p := range all {
		use := ""
		if slices.Contains(protocol.Defaults(), p.Name) {
			use = "used by default"
		}
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\n", p.Name, p.Version, p.Title, use)
	}
	return table.Flush()
}

func printProtocol(out io.Writer, name string) error {
	text, err := protocol.Text(name)
	if err != nil {
		return err
	}
	_, err = out.Write(text)
	return err
}

func printSchema(out io.Writer, own []string) error {
	words, err := loadMeasures(own)
	if err != nil {
		return err
	}
	text, err := protocol.Schema(words.IDs(), indices.IDs())
	if err != nil {
		return err
	}
	_, err = out.Write(append(text, '\n'))
	return err
}

func checkProtocol(out io.Writer, file string, own []string) error {
	words, err := loadMeasures(own)
	if err != nil {
		return err
	}
	p, err := loadProtocol(file, words)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s: protocol %s, version %s, %s: no fault\n", file, p.Name, p.Version, analyse.Counted(len(p.Items), "item", "items"))
	return err
}
