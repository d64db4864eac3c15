package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"leadline/cmd/leadline/internal/demo"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"leadline": main})
}

// TestScripts runs the scripts of testdata/script, one a topic. $DEMO is the demo
// archive of the repository, $FEW a few studies of it with defects of every severity,
// which take a fraction of the time. Commands of our own:
//
//	status N program args...   runs it and wants this exit status
//	cut FILE BYTES             keeps the beginning of a file
//	nopatient [-dates] FILE... no word about a demo patient, or name of staff, is in
//	                           the last stdout and stderr or in the files; parts of
//	                           a workbook are looked through unpacked. -dates leaves
//	                           out birth dates: where dates are shifted and UIDs are
//	                           random digits, one may meet them by chance
//	flip FILE                  changes one bit in the middle of a file
//	settle DIR                 makes every file of a folder one that was changed last
//	                           long ago
//	blank DIR                  overwrites every file with as many zeros, and settles
//	jsonkeys                   replaces the last stdout, JSON, by its key paths
func TestScripts(t *testing.T) {
	archive, err := filepath.Abs(demoDir)
	if err != nil {
		t.Fatal(err)
	}
	params := testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("DEMO", archive)
			env.Setenv("FEW", filepath.Join(archive, "exports", "delivery room"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status":    scriptStatus,
			"cut":       scriptCut,
			"nopatient": scriptNoPatient,
			"jsonkeys":  scriptJSONKeys,
			"flip":      scriptFlip,
			"settle":    scriptSettle,
			"blank":     scriptBlank,
		},
	}
	if testing.Short() {
		params.Dir, params.Files = "", atOnce
	}
	testscript.Run(t, params)
}

// atOnce are the scripts that -short leaves, for the race detector: in them is what of
// the program runs at once (reading, with a cache and pictures too, judging, writing).
var atOnce = []string{"testdata/script/audit_workers.txtar"}

func scriptStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N program args...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("running %s: %v", args[1], err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("%s ended with status %d, expected %d\n%s%s", strings.Join(args[1:], " "), got, want,
			ts.ReadFile("stdout"), ts.ReadFile("stderr"))
	}
}

func scriptCut(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: cut FILE BYTES")
	}
	n, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	ts.Check(os.Truncate(ts.MkAbs(args[0]), n))
}

func scriptFlip(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: flip FILE")
	}
	content := []byte(ts.ReadFile(args[0]))
	content[len(content)/2] ^= 1
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), content, 0o600))
}

func scriptSettle(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: settle DIR")
	}
	longAgo := time.Date(2026, 10, 1, 12, 0, 0, 0, time.UTC)
	eachFile(ts, args[0], func(path string, _ fs.FileInfo) error { return os.Chtimes(path, longAgo, longAgo) })
}

func scriptBlank(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: blank DIR")
	}
	eachFile(ts, args[0], func(path string, info fs.FileInfo) error { return os.WriteFile(path, make([]byte, info.Size()), 0o600) })
	scriptSettle(ts, false, args)
}

// eachFile calls visit for every file below a folder, and wants some.
func eachFile(ts *testscript.TestScript, dir string, visit func(path string, info fs.FileInfo) error) {
	n := 0
	ts.Check(filepath.WalkDir(ts.MkAbs(dir), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		n++
		info, err := d.Info()
		if err != nil {
			return err
		}
		return visit(path, info)
	}))
	if n == 0 {
		ts.Fatalf("no file in %s", dir)
	}
}

func scriptNoPatient(ts *testscript.TestScript, neg bool, args []string) {
	tokens := append(demo.PatientTokens(), demo.StaffTokens()...)
	if len(args) > 0 && args[0] == "-dates" {
		args = args[1:]
		tokens = slices.DeleteFunc(tokens, func(token string) bool { return strings.Trim(token, "0123456789-") == "" })
	}
	if len(tokens) < 50 {
		ts.Fatalf("only %d words to look for", len(tokens))
	}
	texts := map[string]string{"stdout": ts.ReadFile("stdout"), "stderr": ts.ReadFile("stderr")}
	for _, name := range args {
		content := ts.ReadFile(name)
		if strings.HasPrefix(content, "PK") {
			content = unpacked(ts, content)
		}
		texts[name] = content
	}
	found := 0
	for name, content := range texts {
		for _, token := range tokens {
			if strings.Contains(content, token) {
				found++
				if !neg {
					ts.Logf("%s holds %q", name, token)
				}
			}
		}
	}
	if found > 0 != neg {
		ts.Fatalf("%d words of patients or staff found", found)
	}
}

// unpacked is the text of all parts of a ZIP archive.
func unpacked(ts *testscript.TestScript, content string) string {
	archive, err := zip.NewReader(strings.NewReader(content), int64(len(content)))
	ts.Check(err)
	var all bytes.Buffer
	for _, part := range archive.File {
		r, err := part.Open()
		ts.Check(err)
		_, err = io.Copy(&all, r)
		ts.Check(err)
		ts.Check(r.Close())
	}
	return all.String()
}

func scriptJSONKeys(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 0 {
		ts.Fatalf("usage: jsonkeys")
	}
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &v))
	keys := map[string]bool{}
	collectKeys(keys, "", v)
	list := make([]string, 0, len(keys))
	for key := range keys {
		list = append(list, key)
	}
	sort.Strings(list)
	fmt.Fprintln(ts.Stdout(), strings.Join(list, "\n"))
}

// collectKeys collects the paths of all keys; the elements of a list share one.
func collectKeys(keys map[string]bool, path string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for key, value := range v {
			at := strings.TrimPrefix(path+"."+key, ".")
			keys[at] = true
			collectKeys(keys, at, value)
		}
	case []any:
		for _, element := range v {
			collectKeys(keys, path+"[]", element)
		}
	}
}
