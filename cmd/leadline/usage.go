package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadline/ingest/terms"
)

// wants makes a command refuse too few or too many arguments in words; most is 0 where
// any number may be given.
func wants(what string, most int) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return fmt.Errorf("expected %s", what)
		case most > 0 && len(args) > most:
			return fmt.Errorf("expected %s, and nothing after it; found %q", what, args[most])
		}
		return nil
	}
}

// unknownFlag names the flag that a person may have meant.
func unknownFlag(cmd *cobra.Command, err error) error {
	word, unknown := strings.CutPrefix(err.Error(), "unknown flag: --")
	if !unknown {
		return err
	}
	var known []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	if near := terms.Nearest(word, known); near != "" {
		return fmt.Errorf("%w; the nearest is --%s", err, near)
	}
	return err
}

// unknownCommand refuses a word that is no command, and names the one that a person
// may have meant.
func unknownCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var known []string
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			known = append(known, c.Name())
		}
	}
	said := fmt.Sprintf("unknown command %q; expected one of: %s", args[0], strings.Join(known, ", "))
	if near := terms.Nearest(args[0], known); near != "" {
		said += fmt.Sprintf("; the nearest is %s", near)
	}
	return errors.New(said)
}
