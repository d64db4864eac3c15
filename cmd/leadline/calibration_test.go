package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadline/export/deid"
)

// calibrationHeaders are the headers of a check of devices. Those of the tables that
// an audit writes too are the design's.
var calibrationHeaders = map[string]string{
	"files": designHeaders["files"], "regions": designHeaders["regions"],
	"findings": designHeaders["findings"], "codebook": designHeaders["codebook"],
	"targets":  "device,transducer,target,direction,scope,verdict,error_mm,uncertainty_mm,tolerance_mm,low_mm,high_mm,tests,values,first,last,next_due,overdue,true_mm,true_uncertainty_mm,measured_mm,speed_m_s,corrected_mm,within_sd_mm,within_low_mm,within_high_mm,between_sd_mm,tolerance_source,note",
	"acoustic": "exam,told_by,device,month,index,above_limit_of,images_above,images_with_index,share_above,images_without_index,studies,median,largest,clip_s,clip_above_s,clips_untimed,longest_study_s,minutes,studies_beyond,seen,source",
	"charts":   "chart,subject,protocol,device,transducer,operator,point,study_uid,value,unit,lower,centre,upper,signals,baseline,numerator,denominator,source,note",
	"devices":  "device,software,transducers,images,calibrated,studies,first,last",
}

// TestCalibrationHeaders: the tables carry these headers, and no other table is
// written.
func TestCalibrationHeaders(t *testing.T) {
	dir := t.TempDir()
	opts := calibrationOptions{runOptions: runOptions{
		out: filepath.Join(dir, "calibration.xlsx"), tables: filepath.Join(dir, "tables"),
		identity: deid.Study, failOn: failNever, quiet: true,
	}}
	var out, errs bytes.Buffer
	if err := runCalibration(context.Background(), []string{demoDir}, opts, streams{out: &out, err: &errs}, nil); err != nil {
		t.Fatal(err)
	}
	for name, want := range calibrationHeaders {
		if got := strings.Join(table(t, filepath.Join(opts.tables, name+".csv"))[0], ","); got != want {
			t.Errorf("%s.csv:\n%s\nwant\n%s", name, got, want)
		}
	}
	if files, _ := os.ReadDir(opts.tables); len(files) != len(calibrationHeaders) {
		t.Errorf("%d tables, want %d", len(files), len(calibrationHeaders))
	}
}
