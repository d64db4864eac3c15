package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// version is what `leadline --version` prints and the workbook names.
const version = "0.1.0"

// caution stands in every help text and summary.
const caution = "Leadline is a tool for quality work and research, not a medical device and not for diagnosis; local policy and the licensed clinician decide."

// streams are where a command writes: results to out, progress and errors to err.
type streams struct{ out, err io.Writer }

// execute runs one command line and returns its exit status. It prints the error,
// if any, as one message to the error stream.
func execute(ctx context.Context, args []string, to streams) int {
	root := newRootCommand(to)
	root.SetArgs(args)
	root.SetOut(to.out)
	root.SetErr(to.err)
	at, err := root.ExecuteContextC(ctx)
	if err != nil {
		fmt.Fprintln(to.err, explain(err, at.CommandPath()))
	}
	return statusOf(err)
}

func newRootCommand(to streams) *cobra.Command {
	root := &cobra.Command{
		Use:     "leadline",
		Short:   "Audit archives of newborn ultrasound studies",
		Version: version,
		Long: `Reads folders of DICOM files, rebuilds the measurements of each study from their
calipers and calibration, holds every study against a protocol, and writes a
workbook.`,
		Example: `  leadline demo lambswool-ward
  leadline audit lambswool-ward -o september.xlsx`,
		Args:          unknownCommand,
		RunE:          showHelp,
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	document(root, exitDone, exitUsage)
	root.SetHelpTemplate(helpTemplate)
	root.SetFlagErrorFunc(unknownFlag)
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetHelpCommand(newHelpCommand())
	root.AddCommand(
		newAuditCommand(to),
		newCalibrationCommand(to),
		newShowCommand(to),
		newProtocolsCommand(to),
		newDemoCommand(to),
	)
	return root
}

// newHelpCommand is `leadline help COMMAND`; cobra's own calls an unknown command
// a success.
func newHelpCommand() *cobra.Command {
	return document(&cobra.Command{
		Use:     "help [COMMAND]",
		Short:   "Print the help of a command",
		Long:    `Prints the help of a command.`,
		Example: `  leadline help audit`,
		RunE: func(cmd *cobra.Command, args []string) error {
			found, rest, err := cmd.Root().Find(args)
			if err != nil {
				return err
			}
			if len(rest) > 0 {
				return unknownCommand(found, rest)
			}
			return found.Help()
		},
	}, exitDone, exitUsage)
}

func showHelp(cmd *cobra.Command, _ []string) error { return cmd.Help() }

// document gives a command the exit statuses that its help text lists.
func document(cmd *cobra.Command, statuses ...int) *cobra.Command {
	var lines []string
	for _, s := range statuses {
		lines = append(lines, fmt.Sprintf("  %-3d  %s", s, statusText[s]))
	}
	cmd.Annotations = map[string]string{"status": strings.Join(lines, "\n")}
	return cmd
}

// helpTemplate lays out every help text: what the command does, how it is called,
// an example, the exit statuses it can end with, and the caution.
const helpTemplate = `{{trimTrailingWhitespaces .Long}}

USAGE
  {{if .HasAvailableSubCommands}}{{.CommandPath}} COMMAND{{else}}{{.UseLine}}{{end}}
{{- if .HasAvailableSubCommands}}

COMMANDS{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name .NamePadding}}  {{.Short}}{{end}}{{end}}{{end}}

FLAGS
{{trimTrailingWhitespaces .LocalFlags.FlagUsages}}

EXAMPLE
{{.Example}}

EXIT STATUS
{{.Annotations.status}}

CAUTION
  ` + caution + "\n"

// returning marks what a command's run function returns as its own, so that
// statusOf can tell it from a fault in the command line, which cobra reports
// before the function is called.
func returning(run func(cmd *cobra.Command, args []string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		if err := run(cmd, args); err != nil {
			return &runError{err}
		}
		return nil
	}
}
