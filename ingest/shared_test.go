package ingest

import (
	"context"
	"io/fs"
	"path/filepath"
	"reflect"
	"testing"

	"leadline/ingest/dcm"
	b "leadline/ingest/internal/dcmbuild"
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

// TestSharingAtOnce: of two workers that read the same content at once, both get what
// was kept first.
func TestSharingAtOnce(t *testing.T) {
	p, d, key := newPool(), &dcm.Dataset{}, digest{1, 2}
	var first *Image
	got := lookUp(p, p.pictures, key, d, func() picturePart {
		first = lookUp(p, p.pictures, key, d, func() picturePart { return picturePart{Image: &Image{Rows: 1}} }).Image
		return picturePart{Image: &Image{Rows: 1}}
	})
	if got.Image != first || lookUp(p, p.pictures, key, d, nil).Image != first {
		t.Error("two images of one content, want one")
	}
}

// TestProblemInTwoParts: a problem of a picture is told of every file with it, also
// where the study of the file read first has the same.
func TestProblemInTwoParts(t *testing.T) {
	const good, bad = "lung", "poum\xE3o" // of no character set that is declared
	code := func(meaning string) dcm.Dataset {
		return b.Set(b.Text(dcm.CodeValue, "SH", "1"), b.Text(dcm.CodeMeaning, "LO", meaning))
	}
	file := func(uid, procedure string) []byte {
		return b.FileOf(usImage, b.Set(
			b.Text(dcm.SOPClassUID, "UI", usImage), b.Text(dcm.SOPInstanceUID, "UI", uid),
			b.Sequence(dcm.ProcedureCodeSequence, code(procedure)),
			b.Text(dcm.StudyInstanceUID, "UI", "2.25.9"),
			b.Number(dcm.Rows, "US", 240),
			b.Sequence(dcm.ViewCodeSequence, code(bad))))
	}
	dir := t.TempDir()
	write(t, dir+"/1", file("2.25.1", bad))
	write(t, dir+"/2", file("2.25.2", good))
	a, err := Load(context.Background(), []string{dir}, Options{Workers: 1})
	if err != nil || len(a.Instances) != 2 {
		t.Fatalf("%v, %d instances", err, len(a.Instances))
	}
	for _, inst := range a.Instances {
		if n := len(inst.Problems); n != 1 {
			t.Errorf("%s: %d problems, want 1: %v", filepath.Base(inst.Path), n, inst.Problems)
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
