package main

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"leadline/ingest"
)

// realFiles is the folder of real files beside the repository.
const realFiles = "../../../../shared/data/real"

// TestTree wants what Leadline makes of a tree to be what was written into it: an
// image or a report from every file, nothing twice, and studies of one patient, one
// day and one device in one folder.
func TestTree(t *testing.T) {
	for _, tc := range []struct {
		name                    string
		plan                    plan
		studies, clips, reports bool
	}{
		{name: "real headers", plan: plan{files: 60, seed: 1, data: realFiles}, clips: true, reports: true},
		{name: "small headers", plan: plan{files: 60, seed: 1, small: true}},
		{name: "small headers with views", plan: plan{files: 60, seed: 1, small: true, views: true}, clips: true},
		{name: "small headers and reports", plan: plan{files: 60, seed: 1, small: true, measurements: 12}, reports: true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			if _, err := os.Stat(realFiles); !tc.plan.small && errors.Is(err, fs.ErrNotExist) {
				t.Skip("the shared folder with real files is not beside the repository")
			}
			tc.plan.study, tc.plan.days = smallStudy, 30
			tc.plan.out = filepath.Join(t.TempDir(), "tree")
			if err := tc.plan.write(io.Discard); err != nil {
				t.Fatal(err)
			}
			archive, err := ingest.Load(context.Background(), []string{tc.plan.out}, ingest.Options{})
			if err != nil {
				t.Fatal(err)
			}
			outcomes := checkLedger(t, archive, tc.plan.files)
			if got := outcomes[ingest.OutcomeReport] > 0; got != tc.reports {
				t.Errorf("reports among the files: %v, expected %v", got, tc.reports)
			}
			clips := checkInstances(t, archive)
			if (clips > 0) != tc.clips {
				t.Errorf("%d clips, expected some: %v", clips, tc.clips)
			}
		})
	}
}

// checkLedger counts the outcomes and wants images and reports only.
func checkLedger(t *testing.T, archive *ingest.Archive, files int) map[ingest.Outcome]int {
	t.Helper()
	outcomes := map[ingest.Outcome]int{}
	for _, e := range archive.Ledger {
		outcomes[e.Outcome]++
		if e.Outcome != ingest.OutcomeImage && e.Outcome != ingest.OutcomeReport {
			t.Errorf("%s: %s (%s)", e.Path, e.Outcome, e.Reason)
		}
	}
	if len(archive.Ledger) != files || len(archive.Instances) != files {
		t.Errorf("%d files and %d instances, expected %d", len(archive.Ledger), len(archive.Instances), files)
	}
	return outcomes
}

// checkInstances wants every study to be of one patient, device, day and folder, whole
// pixel data, and no SOP Instance UID twice. It returns the number of clips.
func checkInstances(t *testing.T, archive *ingest.Archive) (clips int) {
	t.Helper()
	type identity struct{ patient, name, device, date, folder string }
	studies, seen := map[string]identity{}, map[string]bool{}
	for _, inst := range archive.Instances {
		if seen[inst.SOPInstanceUID] {
			t.Errorf("%s: a SOP Instance UID for the second time", inst.Path)
		}
		seen[inst.SOPInstanceUID] = true
		id := identity{
			inst.Patient.ID, inst.Patient.Name, inst.Device.Serial,
			inst.Study.Start.Date(), filepath.Dir(inst.Path),
		}
		first, known := studies[inst.Study.UID]
		if !known {
			studies[inst.Study.UID] = id
		} else if id != first {
			t.Errorf("%s: %+v in a study of %+v", inst.Path, id, first)
		}
		if inst.Image != nil {
			if inst.Image.PixelData != ingest.PixelsWhole {
				t.Errorf("%s: the pixel data are not whole", inst.Path)
			}
			if inst.Image.Frames > 1 {
				clips++
			}
		}
	}
	if len(studies) < 2 {
		t.Errorf("%d studies of %d files", len(studies), len(archive.Instances))
	}
	return clips
}
