package ingest

import (
	"context"
	"testing"

	"leadline/ingest/dcm"
	b "leadline/ingest/internal/dcmbuild"
)

// TestOverlayWords reads the label and description of the first overlay plane, which
// stand behind everything else in a header.
func TestOverlayWords(t *testing.T) {
	path := t.TempDir() + "/1"
	write(t, path, b.FileOf(usImage, b.Set(
		b.Text(dcm.SOPClassUID, "UI", usImage), b.Text(dcm.SOPInstanceUID, "UI", "2.25.1"),
		b.Text(dcm.StudyInstanceUID, "UI", "2.25.9"),
		b.Number(dcm.Rows, "US", 240), b.Number(dcm.Columns, "US", 320),
		b.Text(dcm.OverlayDescription, "LO", "drawn by hand"), b.Text(dcm.OverlayLabel, "LO", "A4C"))))
	archive, err := Load(context.Background(), []string{path}, Options{})
	if err != nil || len(archive.Instances) != 1 || archive.Instances[0].Image == nil {
		t.Fatalf("%+v, %v", archive, err)
	}
	if v := archive.Instances[0].Image.View; v.OverlayLabel != "A4C" || v.OverlayDescription != "drawn by hand" {
		t.Errorf("%+v", v)
	}
}
