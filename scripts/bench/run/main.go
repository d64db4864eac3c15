// Command run measures Leadline beside the toolkits on one tree, in turn, and
// prints a table, then the ratios that Leadline is held to.
//
//	go run ./scripts/bench/run                    speed, on a tree of 6,000 files
//	go run ./scripts/bench/run -memory            and memory, on 20,000 and 200,000
//	go run ./scripts/bench/run -year              and a year of 30,000 studies, cold and warm
//	go run ./scripts/bench/run -memory -year -readme    and the figures into README.md
//
// Run it in the root of the repository, on a machine that does nothing else; it
// needs GNU time, and leaves out toolkits that are not installed. A tree that is
// there already is used with -tree. It ends with 1 where a ratio is missed.
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

func main() {
	b := bench{}
	flag.IntVar(&b.files, "files", 6000, "files of the tree to build")
	flag.StringVar(&b.tree, "tree", "", "use this tree, made by scripts/bench/tree")
	flag.IntVar(&b.repeat, "repeat", 3, "how often each program runs; the quickest counts")
	flag.BoolVar(&b.memory, "memory", false, "also the memory of 20,000 and 200,000 files")
	flag.BoolVar(&b.year, "year", false, "also a quarter, a half and the whole of a year of 400,000 files, with a cache")
	flag.BoolVar(&b.readme, "readme", false, "write the figures into README.md")
	flag.Parse()
	missed, err := b.run()
	if err != nil {
		fmt.Fprintln(os.Stderr, "run:", err)
		os.Exit(2)
	}
	if missed > 0 {
		os.Exit(1)
	}
}

// bench is what to measure, and where.
type bench struct {
	files, repeat int
	tree          string
	// memory, year and readme are the flags.
	memory, year, readme bool
	// dir holds the programs and trees of this run.
	dir string
}

func (b *bench) run() (missed int, err error) {
	if b.dir, err = os.MkdirTemp("", "leadline-bench"); err != nil {
		return 0, err
	}
	defer os.RemoveAll(b.dir)
	if err := b.build(); err != nil {
		return 0, err
	}
	report := &strings.Builder{}
	fmt.Fprintf(report, "Measured on %s: %d processors (%s), %s, %s.\n\n",
		time.Now().Format("2 January 2006"), runtime.NumCPU(), processorName(), runtime.GOOS, runtime.Version())
	targets, err := b.speed(report)
	if err != nil {
		return 0, err
	}
	if b.memory {
		more, err := b.memoryTargets(report)
		if err != nil {
			return 0, err
		}
		targets = append(targets, more...)
	}
	if b.year {
		more, err := b.yearTargets(report)
		if err != nil {
			return 0, err
		}
		targets = append(targets, more...)
	}
	missed = printTargets(report, targets)
	fmt.Print(report)
	if b.readme {
		err = intoReadme("README.md", report.String())
	}
	return missed, err
}

// build compiles what is measured, so that no compiling is.
func (b *bench) build() error {
	for _, pkg := range []string{"cmd/leadline", "scripts/bench/stage", "scripts/bench/tree"} {
		if _, err := output("go", "build", "-o", b.bin(filepath.Base(pkg)), "./"+pkg); err != nil {
			return err
		}
	}
	return nil
}

func (b *bench) bin(name string) string { return filepath.Join(b.dir, name) }

// processorName is what the machine says of its processor, where it does.
func processorName() string {
	text, _ := os.ReadFile("/proc/cpuinfo")
	for line := range strings.Lines(string(text)) {
		if name, value, found := strings.Cut(line, ":"); found && strings.TrimSpace(name) == "model name" {
			return strings.TrimSpace(value)
		}
	}
	return runtime.GOARCH
}

// The lines of README.md between which the figures stand.
const begin, end = "<!-- figures of scripts/bench/run -->\n", "<!-- end of figures -->\n"

// intoReadme replaces the figures in a file.
func intoReadme(path, report string) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	before, rest, found := strings.Cut(string(text), begin)
	_, after, closed := strings.Cut(rest, end)
	if !found || !closed {
		return errors.New("no place for the figures in " + path)
	}
	return os.WriteFile(path, []byte(before+begin+report+end+after), 0o644)
}
