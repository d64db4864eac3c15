package atomicfile

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestCommit(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.csv")
	f, err := Create(path, false)
	if err != nil {
		t.Fatal(err)
	}
	f.WriteString("whole")
	if _, err := os.Stat(path); err == nil {
		t.Error("the target is there before the commit")
	}
	if err := f.Commit(); err != nil {
		t.Fatal(err)
	}
	f.Abort()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if info.Mode().Perm() != 0o600 {
		t.Errorf("mode %o, want 600", info.Mode().Perm())
	}
	if got := names(t, filepath.Dir(path)); len(got) != 1 {
		t.Errorf("left over: %v", got)
	}
}

func TestAbortLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	f, err := Create(filepath.Join(dir, "a.csv"), false)
	if err != nil {
		t.Fatal(err)
	}
	f.WriteString("half")
	f.Abort()
	if got := names(t, dir); len(got) != 0 {
		t.Errorf("left over: %v", got)
	}
}

func TestExisting(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.csv")
	os.WriteFile(path, []byte("old"), 0o644)
	var exists *ExistsError
	if _, err := Create(path, false); !errors.As(err, &exists) || exists.Path != path {
		t.Errorf("got %v, want *ExistsError for the path", err)
	}
	f, err := Create(path, true)
	if err != nil {
		t.Fatal(err)
	}
	f.WriteString("new")
	if err := f.Commit(); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(path); string(got) != "new" {
		t.Errorf("got %q", got)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Errorf("mode %o, want 600", info.Mode().Perm())
	}
}

// A file that came while ours was written is not overwritten.
func TestRace(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.csv")
	f, err := Create(path, false)
	if err != nil {
		t.Fatal(err)
	}
	os.WriteFile(path, []byte("other"), 0o644)
	var exists *ExistsError
	if err := f.Commit(); !errors.As(err, &exists) {
		t.Errorf("got %v, want *ExistsError", err)
	}
	if got, _ := os.ReadFile(path); string(got) != "other" {
		t.Errorf("overwrote it: %q", got)
	}
	if got := names(t, filepath.Dir(path)); len(got) != 1 {
		t.Errorf("left over: %v", got)
	}
}

func TestRefusedTargets(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	os.WriteFile(file, nil, 0o600)
	if _, err := Create(dir, true); err == nil {
		t.Error("took a folder for a file")
	}
	if _, err := Create(filepath.Join(dir, "no", "a.csv"), false); err == nil {
		t.Error("wrote into a folder that is not there")
	}
	if _, err := CreateSet(file, nil, true); err == nil {
		t.Error("took a file for a folder")
	}
	if _, err := CreateSet(dir, []string{"file"}, false); err == nil {
		t.Error("a set overwrites without force")
	}
}

func TestSet(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "tables")
	for _, commit := range []bool{false, true} {
		s, err := CreateSet(dir, []string{"a", "b"}, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"a", "b"} {
			f, err := s.Create(name)
			if err != nil {
				t.Fatal(err)
			}
			f.WriteString(name)
		}
		if commit {
			if err := s.Commit(); err != nil {
				t.Fatal(err)
			}
		}
		s.Abort()
		if _, err := os.Stat(dir); !commit && err == nil {
			t.Error("an aborted set left its folder")
		}
	}
	if got := names(t, dir); len(got) != 2 {
		t.Errorf("got %v, want a and b", got)
	}
}
