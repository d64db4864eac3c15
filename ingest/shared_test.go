package ingest

import (
	"context"
	"io/fs"
	"path/filepath"
	"reflect"
	"testing"

	"leadline/ingest/dcm"
)

// TestSharedAsAlone: what is shared between the files of an archive reads as if
// each file had been read by itself.
func TestSharedAsAlone(t *testing.T) {
	for _, root := range []string{"../testdata/demo", "../testdata/hostile", "../../shared/data"} {
		var files []string
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err == nil && d.Type().IsRegular() {
				files = append(files, path)
			}
			return err
		})
		if err != nil && root == "../../shared/data" {
			t.Logf("%s is not here: %v", root, err)
			continue
		}
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files, %v", root, len(files), err)
		}
		together, err := Load(context.Background(), []string{root}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		of := map[string]*Instance{}
		for _, inst := range together.Instances {
			of[inst.Path] = inst
		}
		for _, file := range files {
			alone, err := Load(context.Background(), []string{file}, Options{Workers: 1})
			if err != nil {
				t.Fatal(err)
			}
			for _, inst := range alone.Instances {
				if with := of[inst.Path]; with != nil && !reflect.DeepEqual(inst, with) {
					t.Errorf("%s reads differently among others", inst.Path)
				}
			}
		}
	}
}

// TestSharing: images of one setting share their picture, of one series their
// study; another value anywhere in a part makes another one.
func TestSharing(t *testing.T) {
	dir := t.TempDir()
	write(t, dir+"/1", object(usImage, "2.25.1", "2.25.9", usRows))
	write(t, dir+"/2", object(usImage, "2.25.2", "2.25.9", usRows))
	write(t, dir+"/3", object(usImage, "2.25.3", "2.25.8", usRows))
	write(t, dir+"/4", object(usImage, "2.25.4", "2.25.9", "\x28\x00\x10\x00US\x02\x00\xF1\x00"))
	a, err := Load(context.Background(), []string{dir}, Options{})
	if err != nil || len(a.Instances) != 4 {
		t.Fatalf("%v, %d instances", err, len(a.Instances))
	}
	one := a.Instances[0]
	for i, c := range []struct{ study, picture bool }{{true, true}, {false, true}, {true, false}} {
		other := a.Instances[i+1]
		if (other.Study == one.Study) != c.study || (other.Image == one.Image) != c.picture {
			t.Errorf("file %d: study shared %t, picture shared %t; want %+v", i+2, other.Study == one.Study, other.Image == one.Image, c)
		}
	}
	if rows := a.Instances[3].Image.Rows; rows != 241 {
		t.Errorf("%d rows, want 241", rows)
	}
}

// TestSharedProblems: a picture whose text cannot be decoded is noted in every file
// that has it, though in the first its study had the same fault.
func TestSharedProblems(t *testing.T) {
	coded := func(element string) string { // a code sequence whose meaning is of no declared set
		const item = "\xFE\xFF\x00\xE0\x0A\x00\x00\x00" + "\x08\x00\x04\x01LO\x02\x00\xFFx"
		return "\x08\x00" + element + "SQ\x00\x00\x12\x00\x00\x00" + item
	}
	const procedure, region = "\x32\x10", "\x18\x22"
	dir := t.TempDir()
	write(t, dir+"/1", object(usImage, "2.25.1", "2.25.9", coded(procedure)+coded(region)+usRows))
	write(t, dir+"/2", object(usImage, "2.25.2", "2.25.9", coded(region)+usRows))
	a, err := Load(context.Background(), []string{dir}, Options{Workers: 1})
	if err != nil || len(a.Instances) != 2 {
		t.Fatalf("%v, %d instances", err, len(a.Instances))
	}
	for _, inst := range a.Instances {
		if len(inst.Problems) != 1 || inst.Problems[0].Tag != dcm.CodeMeaning {
			t.Errorf("%s: problems %v, want one of Code Meaning", inst.Path, inst.Problems)
		}
	}
}

// TestLoadOverlapping: a file under several of the paths is met once.
func TestLoadOverlapping(t *testing.T) {
	dir := t.TempDir()
	write(t, dir+"/a/b/1", object(usImage, "2.25.1", "2.25.9", usRows))
	write(t, dir+"/a/2", object(usImage, "2.25.2", "2.25.9", usRows))
	write(t, dir+"/c/3", object(usImage, "2.25.3", "2.25.9", usRows))
	for _, paths := range [][]string{
		{"."}, {".", "a"}, {"a/b", "."}, {"a/b/1", "a", "."}, {"a", "a/b", "c", "a/../c/3", "."}, {"c", "./c/", ".", "."},
	} {
		var given []string
		for _, p := range paths {
			given = append(given, dir+"/"+p)
		}
		archive, err := Load(context.Background(), given, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(archive.Ledger) != 3 {
			t.Errorf("%q: %d files met, want 3", paths, len(archive.Ledger))
		}
	}
}
