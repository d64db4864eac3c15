package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

const oracleDir = "../../scripts/oracle"

// TestRegionsByToolkits wants bounds, units and deltas of every region of every
// file to equal what pydicom and dcmdump read, and a row for every file: on the
// demo archive and on the real files.
func TestRegionsByToolkits(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	python := needPython(t)
	if _, err := exec.LookPath("dcmdump"); err != nil {
		t.Skip("skipped: dcmdump is not installed (Debian package dcmtk)")
	}
	t.Run("demo", func(t *testing.T) {
		runOracle(t, python, "regions.py", tablesOf(t, demoDir), demoDir)
	})
	t.Run("real", func(t *testing.T) {
		needReal(t)
		runOracle(t, python, "regions.py", tablesOf(t, realDir+"/real"), realDir+"/real")
	})
}

// TestRebuiltTwice rebuilds every measurement a second time in Python, from
// headers that pydicom reads, and derives every index again from the tables; value
// and uncertainty are wanted within 1e-9.
func TestRebuiltTwice(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	python := needPython(t)
	calipers := demoDir + "/calipers.csv"
	t.Run("demo", func(t *testing.T) {
		tables := tablesOf(t, demoDir, "--calipers", calipers)
		runOracle(t, python, "rebuild.py", tables, calipers, demoDir)
		runOracle(t, python, "indices.py", tables, demoDir)
	})
	t.Run("another month", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "month")
		mustRun(t, "demo", dir, "--studies", "24", "--seed", "11")
		calipers := filepath.Join(dir, "calipers.csv")
		tables := tablesOf(t, dir, "--calipers", calipers)
		runOracle(t, python, "rebuild.py", tables, calipers, dir)
		runOracle(t, python, "indices.py", tables, dir)
	})
	t.Run("real", func(t *testing.T) {
		needReal(t)
		runOracle(t, python, "rebuild.py", tablesOf(t, realDir+"/real"), os.DevNull, realDir+"/real")
	})
}

// TestCodesByDictionary wants pydicom's dictionaries to give every code of the
// catalogue of measures the meaning that we read, and every old code its new one.
func TestCodesByDictionary(t *testing.T) {
	runOracle(t, needPython(t), "codes.py", "../../analyse/measures/testdata/codes.csv", "../../ingest/terms/legacy.csv")
}

// needPython finds a Python that has pydicom; Debian's package serves the
// system's own only.
func needPython(t *testing.T) string {
	t.Helper()
	for _, python := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(python, "-c", "import pydicom").Run() == nil {
			return python
		}
	}
	t.Skip("skipped: no Python with pydicom (Debian package python3-pydicom)")
	return ""
}

// tablesOf audits a folder and returns the folder of the tables. The paths must be
// the true ones, so identity is full.
func tablesOf(t *testing.T, dir string, flags ...string) string {
	t.Helper()
	out := t.TempDir()
	tables := filepath.Join(out, "tables")
	mustRun(t, append([]string{"audit", dir, "-o", filepath.Join(out, "audit.xlsx"), "--tables", tables, "--identity", "full"}, flags...)...)
	return tables
}

func mustRun(t *testing.T, args ...string) {
	t.Helper()
	var out, errs bytes.Buffer
	if status := execute(context.Background(), args, streams{out: &out, err: &errs}); status != exitDone {
		t.Fatalf("leadline %s: status %d\n%s", strings.Join(args, " "), status, errs.String())
	}
}

func runOracle(t *testing.T, python, script string, args ...string) {
	t.Helper()
	out, err := exec.Command(python, append([]string{filepath.Join(oracleDir, script)}, args...)...).CombinedOutput()
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if err != nil {
		t.Fatalf("%s: %v\n%s", script, err, strings.Join(lines[:min(len(lines), 40)], "\n"))
	}
	t.Log(lines[len(lines)-1])
}
