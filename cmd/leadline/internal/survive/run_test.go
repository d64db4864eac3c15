package survive

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

const (
	demoImage  = "../../../../testdata/demo/exports/ward-b/20260930-032/US00001.dcm"
	hostileDir = "../../../../testdata/hostile"
	// goodFile stands beside every hostile file, in the order of names before and
	// behind it, so that the run is seen to go on.
	goodFile = "zz-good.dcm"
	// mostMemory is what the program may take at its peak (issue: 300 MiB).
	mostMemory = 300 << 20
	// hangs is when a run is given up: no measure of speed, every run takes a fraction
	// of it on a busy machine.
	hangs = 4 * time.Minute
	// mostStderr is what it may say: no flood.
	mostStderr = 64 << 10
)

// program builds the program once, as a user does: neither with the race detector
// nor with what the tests add.
var program = sync.OnceValues(func() (string, error) {
	if err := lookAtSources(); err != nil {
		return "", err
	}
	dir, err := os.MkdirTemp("", "leadline-survive-")
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "leadline")
	out, err := exec.Command("go", "build", "-o", path, "leadline/cmd/leadline").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("building the program: %w\n%s", err, out)
	}
	return path, nil
})

// lookAtSources asks for every file that the program is made of: go test keeps the
// result of a test until a file changes that it has looked at, and does not know what
// a build within it reads.
func lookAtSources() error {
	for _, stage := range []string{"cmd", "export", "analyse", "ingest"} {
		err := filepath.WalkDir(filepath.Join("../../../..", stage), func(path string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() {
				_, err = os.Stat(path)
			}
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// TestMain leaves all out under -short, which goes with the race detector: it would see
// nothing of the program, which runs by itself.
func TestMain(m *testing.M) {
	if flag.Parse(); testing.Short() {
		fmt.Println("left out under -short")
		return
	}
	// Whatever GOGC says: what the test itself takes counts as its child's.
	debug.SetGCPercent(100)
	status := m.Run()
	if path, err := program(); err == nil {
		os.RemoveAll(filepath.Dir(path))
	}
	os.Exit(status)
}

// audited is what an audit as a child process did.
type audited struct {
	status         int
	stdout, stderr string
	memory         int64 // peak, in bytes
	tables         string
	files          []fileRow
}

// fileRow is one row of files.csv, its path below the audited folder.
type fileRow struct{ path, bytes, outcome, reason string }

// audit runs the program on a folder, and holds it to memory and to saying little.
func audit(t *testing.T, dir string) audited {
	t.Helper()
	return auditAs(t, dir, nil)
}

// auditAs does so as another user, if one is given.
func auditAs(t *testing.T, dir string, user *syscall.Credential) audited {
	t.Helper()
	path, err := program()
	if err != nil {
		t.Fatal(err)
	}
	results := t.TempDir()
	run := audited{tables: filepath.Join(results, "tables")}
	ctx, cancel := context.WithTimeout(context.Background(), hangs)
	defer cancel()
	cmd := exec.CommandContext(ctx, path, "audit", dir, "--out", filepath.Join(results, "audit.xlsx"), "--tables", run.tables, "--json")
	cmd.Dir = results
	cmd.Env = plainEnvironment()
	if user != nil {
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: user}
		if err := errors.Join(os.Chmod(filepath.Dir(path), 0o755), os.Chmod(path, 0o755), os.Chmod(results, 0o777)); err != nil {
			t.Fatal(err)
		}
	}
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	err = cmd.Run()
	if ctx.Err() != nil {
		t.Fatalf("the program was still running after %v", hangs)
	}
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	run.status = cmd.ProcessState.ExitCode()
	run.stdout, run.stderr = stdout.String(), stderr.String()
	run.memory = cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss * 1024 // Linux counts in KiB
	if run.memory > mostMemory {
		var own syscall.Rusage
		if err := syscall.Getrusage(syscall.RUSAGE_SELF, &own); err == nil && own.Maxrss*1024 >= run.memory {
			t.Fatalf("the test itself took %d MiB, which the system counts as its child's: build the files piece by piece", own.Maxrss>>10)
		}
		t.Errorf("%d MiB at the peak, at most %d are granted", run.memory>>20, mostMemory>>20)
	}
	if len(run.stderr) > mostStderr {
		t.Errorf("%d bytes on standard error: a flood", len(run.stderr))
	}
	if run.status != 0 {
		t.Fatalf("status %d: %.2000s", run.status, run.stderr)
	}
	run.files = readFiles(t, dir, filepath.Join(run.tables, "files.csv"))
	return run
}

// plainEnvironment is this one without what sets how much memory a Go program takes.
func plainEnvironment() []string {
	return slices.DeleteFunc(os.Environ(), func(v string) bool {
		name, _, _ := strings.Cut(v, "=")
		return name == "GOGC" || name == "GOMEMLIMIT" || name == "GODEBUG"
	})
}

func readFiles(t *testing.T, dir, table string) []fileRow {
	t.Helper()
	f, err := os.Open(table)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if head := strings.Join(rows[0][:4], ","); head != "path,bytes,outcome,reason" {
		t.Fatalf("files.csv begins with %s", head)
	}
	var list []fileRow
	for _, r := range rows[1:] {
		list = append(list, fileRow{strings.TrimPrefix(r[0], dir+"/"), r[1], r[2], r[3]})
	}
	return list
}

// beside puts the good file into a folder.
func beside(t *testing.T, dir string) {
	t.Helper()
	content, err := os.ReadFile(demoImage)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, goodFile), content, 0o600); err != nil {
		t.Fatal(err)
	}
}

// goodIsRead wants the good file's row to be as if it lay alone.
func (a audited) goodIsRead(t *testing.T) {
	t.Helper()
	last := a.files[len(a.files)-1]
	if last.path != goodFile || last.outcome != "image" || last.reason != "" {
		t.Errorf("the good file: %+v", last)
	}
}
