package survive

import (
	"encoding/json"
	"errors"
	"io/fs"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"unicode"
)

// TestEveryFileAccountedFor audits a folder in which every kind of thing lies that is
// found in file systems, and wants one row for each, its outcome and its reason.
func TestEveryFileAccountedFor(t *testing.T) {
	dir := t.TempDir()
	beside(t, dir)
	text := plain([]byte("notes\n"))
	const noFile, isText = "not a regular file: ", notDICOM + "plain text"
	var want []fileRow
	row := func(path, outcome, reason string) {
		want = append(want, fileRow{path: path, outcome: outcome, reason: reason})
	}

	create(t, dir+"/empty", plain(nil))
	row("empty", "not-dicom", notDICOM+"the file is empty")
	create(t, dir+"/sparse", plain(nil))
	must(t, os.Truncate(dir+"/sparse", 10<<30))
	row("sparse", "not-dicom", notDICOM+"no DICM mark at offset 128 and no plausible first element")
	create(t, dir+"/sparse-image", file(explicitLittle, image))
	must(t, os.Truncate(dir+"/sparse-image", 10<<30))
	row("sparse-image", "image", "")

	must(t, syscall.Mkfifo(dir+"/pipe", 0o600))
	row("pipe", "not-dicom", noFile+"a named pipe")
	must(t, bindSocket(t, dir))
	row("socket", "not-dicom", noFile+"a socket")
	must(t, os.Symlink("/dev/zero", dir+"/device"))
	row("device", "not-dicom", noFile+"a device")

	must(t, os.Symlink(".", dir+"/loop"))
	row("loop", "not-dicom", "a link to a folder that it lies in; not followed")
	must(t, os.Symlink("turn-b", dir+"/turn-a"))
	must(t, os.Symlink("turn-a", dir+"/turn-b"))
	row("turn-a", "unreadable", "cannot be opened: too many levels of symbolic links")
	row("turn-b", "unreadable", "cannot be opened: too many levels of symbolic links")
	must(t, os.Symlink("nowhere\x1b[31m", dir+"/dangling"))
	row("dangling", "unreadable", "cannot be opened: no such file or directory")
	must(t, os.Symlink(goodFile, dir+"/a-link"))
	row("a-link", "image", "") // the first in order stands for both
	row(goodFile, "duplicate", "the same bytes as the file met before with this SOP Instance UID")

	for name, shown := range map[string]string{
		"two\nlines":             `two\x0Alines`,
		"esc\x1b[2Jscreen":       `esc\x1B[2Jscreen`,
		"csi\u009b2Jscreen":      `csi\u009B2Jscreen`,
		"bidi-\u202efdp.dcm":     `bidi-\u202Efdp.dcm`,
		"latin-\xe8":             `latin-\xE8`,
		"latin-\xe9":             `latin-\xE9`,
		"hidden-\u200b":          `hidden-\u200B`,
		"=HYPERLINK(x)":          `=HYPERLINK(x)`,
		"@sum":                   `@sum`,
		"-dash":                  `-dash`,
		" blank ":                ` blank `,
		"comma,\"quote\"":        `comma,"quote"`,
		"export.zip!":            `export.zip!`,
		"umlaut-ä":               `umlaut-ä`,
		strings.Repeat("n", 255): strings.Repeat("n", 255),
	} {
		create(t, filepath.Join(dir, name), text)
		row(shown, "not-dicom", isText)
	}
	got := audit(t, dir)
	if !slices.EqualFunc(sorted(got.files), sorted(want), func(g, w fileRow) bool {
		return g.path == w.path && g.outcome == w.outcome && g.reason == w.reason
	}) {
		t.Errorf("got\n%q\nwanted\n%q", sorted(got.files), sorted(want))
	}
	got.addsUp(t, dir)
	holdsToText(t, got)
}

// TestDeepFolders audits folders 4,000 deep, whose paths grow longer than the system
// takes: the first that cannot be listed is a row.
func TestDeepFolders(t *testing.T) {
	dir := t.TempDir()
	beside(t, dir)
	// What t.TempDir removes with recursion is removed without before.
	t.Cleanup(func() { must(t, exec.Command("rm", "-rf", dir+"/deep").Run()) })
	must(t, os.Mkdir(dir+"/deep", 0o700))
	at, err := syscall.Open(dir+"/deep", syscall.O_RDONLY, 0)
	must(t, err)
	for range 4000 {
		must(t, syscall.Mkdirat(at, "d", 0o700))
		next, err := syscall.Openat(at, "d", syscall.O_RDONLY, 0)
		must(t, err)
		must(t, syscall.Close(at))
		at = next
	}
	must(t, syscall.Close(at))
	got := audit(t, dir)
	if len(got.files) != 2 || got.files[0].outcome != "unreadable" || got.files[0].reason != "cannot be opened: file name too long" {
		t.Errorf("%d rows, the first %s: %s", len(got.files), got.files[0].outcome, got.files[0].reason)
	}
	got.goodIsRead(t)
}

// TestLocked audits what the user may not read, as a user who is not root.
func TestLocked(t *testing.T) {
	dir := t.TempDir()
	// The one is made for its owner only, the other may be, as the umask wants it.
	must(t, errors.Join(os.Chmod(filepath.Dir(dir), 0o755), os.Chmod(dir, 0o755)))
	beside(t, dir)
	must(t, os.Chmod(dir+"/"+goodFile, 0o644))
	must(t, os.Mkdir(dir+"/folder", 0o700))
	create(t, dir+"/folder/inside", file(explicitLittle, image))
	create(t, dir+"/locked", file(explicitLittle, image))
	must(t, os.Chmod(dir+"/folder", 0))
	must(t, os.Chmod(dir+"/locked", 0))
	t.Cleanup(func() { must(t, os.Chmod(dir+"/folder", 0o700)) })
	got := auditAs(t, dir, nobody())
	want := []fileRow{
		{path: "folder", outcome: "unreadable", reason: "the folder cannot be listed: permission denied"},
		{path: "locked", outcome: "unreadable", reason: "cannot be opened: permission denied"},
	}
	for i, w := range want {
		if g := got.files[i]; g.path != w.path || g.outcome != w.outcome || g.reason != w.reason {
			t.Errorf("%+v, wanted %+v", g, w)
		}
	}
	got.goodIsRead(t)
}

// nobody is a user without rights where this one has all of them, else none: this
// one.
func nobody() *syscall.Credential {
	const id = 65534
	if os.Geteuid() != 0 {
		return nil
	}
	return &syscall.Credential{Uid: id, Gid: id}
}

// addsUp wants as many rows as there are files, and the counts of the summary to be
// those of the rows.
func (a audited) addsUp(t *testing.T, dir string) {
	t.Helper()
	files := 0
	must(t, filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			files++
		}
		return err
	}))
	var summary struct {
		Files struct {
			Total     int            `json:"total"`
			ByOutcome map[string]int `json:"by_outcome"`
		} `json:"files"`
	}
	must(t, json.Unmarshal([]byte(a.stdout), &summary))
	sum := 0
	for outcome, n := range summary.Files.ByOutcome {
		sum += n
		rows := 0
		for _, f := range a.files {
			if f.outcome == outcome {
				rows++
			}
		}
		if rows != n {
			t.Errorf("%s: %d in the summary, %d rows", outcome, n, rows)
		}
	}
	if files == 0 || sum != files || summary.Files.Total != files || len(a.files) != files {
		t.Errorf("%d files: outcomes add up to %d, total %d, %d rows", files, sum, summary.Files.Total, len(a.files))
	}
}

// holdsToText wants every path in the tables on one line and every character seen.
func holdsToText(t *testing.T, a audited) {
	t.Helper()
	unseen := func(r rune) bool { return r == unicode.ReplacementChar || !unicode.IsGraphic(r) }
	for _, f := range a.files {
		if strings.ContainsFunc(f.path, unseen) {
			t.Errorf("path %q", f.path)
		}
	}
	if strings.ContainsFunc(strings.ReplaceAll(a.stderr+a.stdout, "\n", ""), unseen) {
		t.Errorf("printed: %q %q", a.stdout, a.stderr)
	}
}

func sorted(rows []fileRow) []fileRow {
	return slices.SortedFunc(slices.Values(rows), func(a, b fileRow) int { return strings.Compare(a.path, b.path) })
}

// bindSocket leaves a socket in dir, by a short path: those of sockets are limited.
func bindSocket(t *testing.T, dir string) error {
	short, err := os.MkdirTemp("", "s")
	if err != nil {
		return err
	}
	t.Cleanup(func() { os.RemoveAll(short) })
	listener, err := net.Listen("unix", short+"/s")
	if err != nil {
		return err
	}
	t.Cleanup(func() { listener.Close() })
	return os.Rename(short+"/s", dir+"/socket")
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
