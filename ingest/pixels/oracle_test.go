package pixels

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// unpacked is the answer of scripts/oracle/first_frames.py for one file.
type unpacked struct {
	Path                   string
	None                   string
	File                   string
	Rows, Columns, Samples int
}

// jpegTolerance is how many grey levels two decoders may differ by: ISO 10918-2 lets
// each be 1 away from the exact inverse transform.
const jpegTolerance = 2

// TestAgainstToolkits holds every first frame of the demo archive and of the real
// files against pydicom with numpy, and JPEG against dcmdjpeg: each sample is the same,
// in JPEG the brightness (Y) within two levels. Chroma that was stored at half size is
// spread differently by every decoder and is not compared.
func TestAgainstToolkits(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	for _, program := range []string{"/usr/bin/python3", "dcmdjpeg"} {
		if _, err := exec.LookPath(program); err != nil {
			t.Skipf("%s is not there", program)
		}
	}
	var files []string
	for _, root := range []string{"../../testdata/demo", "../../../shared/data/real"} {
		filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() && !strings.HasSuffix(path, ".csv") {
				files = append(files, path)
			}
			return nil
		})
	}
	same, near, both, mine, theirs := 0, 0, 0, 0, 0
	for _, want := range ask(t, files) {
		got, err := firstOf(want.Path)
		refused := errors.As(err, new(*NotDecodedError))
		switch {
		case err != nil && !refused:
			t.Errorf("%s: %v", want.Path, err)
		case want.None != "" && refused:
			both++
		case want.None != "":
			mine++
			t.Logf("%s: unpacked here, and not by the toolkits (%s)", want.Path, want.None)
		case refused:
			theirs++
			t.Logf("%s: unpacked by the toolkits, and not here: %v", want.Path, err)
		default:
			exact := compare(t, want, got)
			same, near = same+exact, near+1-exact
		}
	}
	t.Logf("%d frames are the same, %d JPEG within %d levels, %d only here, %d only there, %d by neither", same, near, jpegTolerance, mine, theirs, both)
	if same < 60 || near < 20 {
		t.Errorf("%d and %d frames compared: too few to test with", same, near)
	}
}

func ask(t *testing.T, files []string) []unpacked {
	t.Helper()
	cmd := exec.Command("/usr/bin/python3", "../../scripts/oracle/first_frames.py", t.TempDir())
	cmd.Stdin = strings.NewReader(strings.Join(files, "\n") + "\n")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var answers []unpacked
	for line := range bytes.Lines(out) {
		var a unpacked
		if err := json.Unmarshal(line, &a); err != nil {
			t.Fatal(err)
		}
		answers = append(answers, a)
	}
	if len(answers) != len(files) {
		t.Fatalf("%d answers for %d files", len(answers), len(files))
	}
	return answers
}

func firstOf(path string) (*Frame, error) {
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	return First(bytes.NewReader(b), int64(len(b)))
}

// compare holds one frame and returns 1 where every sample is the same.
func compare(t *testing.T, want unpacked, got *Frame) int {
	t.Helper()
	pix, err := os.ReadFile(want.File)
	if err != nil {
		t.Fatal(err)
	}
	if got.Rows != want.Rows || got.Columns != want.Columns || got.Samples() != want.Samples || len(got.Pix) != len(pix) {
		t.Errorf("%s: %d by %d of %d samples, want %d by %d of %d", want.Path, got.Columns, got.Rows, got.Samples(), want.Columns, want.Rows, want.Samples)
		return 0
	}
	if bytes.Equal(pix, got.Pix) {
		return 1
	}
	worst, different := 0, 0
	step := 1
	jpeg := bytes.Contains(head(want.Path), []byte(jpegBaseline))
	if jpeg {
		step = got.Samples()
	}
	for i := 0; i < len(pix); i += step {
		off := max(int(pix[i])-int(got.Pix[i]), int(got.Pix[i])-int(pix[i]))
		if worst = max(worst, off); off > 0 {
			different++
		}
	}
	if !jpeg || worst > jpegTolerance {
		t.Errorf("%s: %d of %d samples differ, by up to %d", want.Path, different, len(pix)/step, worst)
	}
	return 0
}

func head(path string) []byte {
	b, _ := os.ReadFile(path)
	return b[:min(len(b), 2000)]
}
