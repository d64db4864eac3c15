package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// TestHelp wants from every command a help text with what the command does, an
// example in the invented scenario, the exit statuses and the caution, on standard
// output and with status 0.
func TestHelp(t *testing.T) {
	n := 0
	for _, path := range commandPaths(newRootCommand(streams{}), nil) {
		t.Run(strings.Join(append([]string{"leadline"}, path...), " "), func(t *testing.T) {
			var out, errs bytes.Buffer
			status := execute(context.Background(), append(path, "--help"), streams{out: &out, err: &errs})
			if status != exitDone || errs.Len() > 0 {
				t.Fatalf("status %d, standard error %q", status, errs.String())
			}
			for _, want := range []string{"USAGE\n", "FLAGS\n", "EXAMPLE\n  leadline ", "EXIT STATUS\n  0    done\n", "CAUTION\n  " + caution} {
				if !strings.Contains(out.String(), want) {
					t.Errorf("the help lacks %q:\n%s", want, out.String())
				}
			}
		})
		n++
	}
	if n < 8 {
		t.Errorf("only %d commands found", n)
	}
}

// commandPaths lists the words that call each command below cmd, cmd itself first.
func commandPaths(cmd *cobra.Command, at []string) [][]string {
	paths := [][]string{at}
	for _, sub := range cmd.Commands() {
		paths = append(paths, commandPaths(sub, append(at[:len(at):len(at)], sub.Name()))...)
	}
	return paths
}

// TestStatusText wants a meaning for every status.
func TestStatusText(t *testing.T) {
	for _, s := range []int{exitDone, exitFindings, exitUsage, exitNothing, exitInterrupted} {
		if statusText[s] == "" {
			t.Errorf("status %d has no meaning", s)
		}
	}
}
