package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"leadline/export/deid"
)

// calibrationHeaders are the headers of a check of devices. Those of the tables that
// an audit writes too are the design's.
var calibrationHeaders = map[string]string{
	"files": designHeaders["files"], "regions": designHeaders["regions"],
	"findings": designHeaders["findings"], "codebook": designHeaders["codebook"],
	"clocks":   designHeaders["clocks"],
	"devices":  "device,verdict,evidence,look_at,images,calibrated,compared,studies,first,last,software,transducers,errors,warnings,test_object",
	"look-at":  "device,reason,study_uid,sop_uid,path,what",
	"scales":   "device,transducer,images,depths,depth_low_mm,depth_high_mm,slope,slope_low,slope_high,intercept_mm,residual_mm,change,change_percent,since,software_before,software_after,model_devices,off_model_percent",
	"settings": "device,transducer,data_type,depth_mm,exam,columns,rows,region_width,region_height,images,values,mm_per_pixel_x,mm_per_pixel_y,low,high,mad,outliers",
	"routes":   "device,route,images,columns,rows,size_ratio,depth_ratio,note,implementation_version,source_ae,derived,lossy,first,last,transfer_syntax,implementation",
	"targets":  "device,transducer,target,direction,scope,verdict,error_mm,uncertainty_mm,tolerance_mm,low_mm,high_mm,tests,values,first,last,next_due,overdue,true_mm,true_uncertainty_mm,measured_mm,speed_m_s,corrected_mm,within_sd_mm,within_low_mm,within_high_mm,between_sd_mm,tolerance_source,note",
	"acoustic": "exam,told_by,device,month,index,above_limit_of,images_above,images_with_index,share_above,images_without_index,studies,median,largest,clip_s,clip_above_s,clips_untimed,longest_study_s,minutes,studies_beyond,seen,source,images_set_aside",
	"charts":   designHeaders["charts"],
}

// calibrated checks the devices of a folder with tables.
func calibrated(t *testing.T, folder string) (workbook, tables string) {
	t.Helper()
	dir := t.TempDir()
	opts := calibrationOptions{runOptions: runOptions{
		out: filepath.Join(dir, "calibration.xlsx"), tables: filepath.Join(dir, "tables"),
		identity: deid.Study, failOn: failNever, quiet: true,
	}}
	var out, errs bytes.Buffer
	if err := runCalibration(context.Background(), []string{folder}, opts, streams{out: &out, err: &errs}, nil); err != nil {
		t.Fatal(err)
	}
	return opts.out, opts.tables
}

// TestCalibrationHeaders: the tables carry these headers, and no other table is
// written; the sheets hold their rows.
func TestCalibrationHeaders(t *testing.T) {
	workbook, dir := calibrated(t, demoDir)
	for name, want := range calibrationHeaders {
		if got := strings.Join(table(t, filepath.Join(dir, name+".csv"))[0], ","); got != want {
			t.Errorf("%s.csv:\n%s\nwant\n%s", name, got, want)
		}
	}
	if files, _ := os.ReadDir(dir); len(files) != len(calibrationHeaders) {
		t.Errorf("%d tables, want %d", len(files), len(calibrationHeaders))
	}
	book, err := excelize.OpenFile(workbook)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	for name, sheet := range map[string]string{"devices": "Devices", "look-at": "Look at", "scales": "Depth and time", "settings": "Settings", "routes": "Routes"} {
		cells, err := book.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		rows := table(t, filepath.Join(dir, name+".csv"))
		if len(cells) != len(rows) {
			t.Errorf("%s: %d rows in the sheet, %d in the table", sheet, len(cells), len(rows))
		}
		if len(rows) > 1 {
			compareTexts(t, sheet, rows, cells)
		}
	}
}

// TestFleetTruth draws a fleet into files, checks it, and wants every verdict and
// reason of truth-fleet.csv and no other.
func TestFleetTruth(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "fleet")
	var out bytes.Buffer
	if err := runDemo(context.Background(), dir, demoOptions{fleet: true, seed: 31}, &out); err != nil {
		t.Fatal(err)
	}
	_, tables := calibrated(t, dir)
	verdicts, reasons := map[string]string{}, map[string]map[string]bool{}
	serial := func(device string) string { return device[strings.LastIndex(device, " ")+1:] }
	for _, row := range table(t, filepath.Join(tables, "devices.csv"))[1:] {
		verdicts[serial(row[0])] = row[1]
	}
	for _, row := range table(t, filepath.Join(tables, "look-at.csv"))[1:] {
		if reasons[serial(row[0])] == nil {
			reasons[serial(row[0])] = map[string]bool{}
		}
		reasons[serial(row[0])][row[1]] = true
	}
	faults := 0
	for _, row := range table(t, filepath.Join(dir, "truth-fleet.csv"))[1:] {
		unit, reason, verdict := row[0], row[3], row[4]
		if verdicts[unit] != verdict {
			t.Errorf("%s is %s, expected %s", unit, verdicts[unit], verdict)
		}
		switch {
		case reason == "" && len(reasons[unit]) > 0:
			t.Errorf("%s has files to look at: %v", unit, reasons[unit])
		case reason != "" && !reasons[unit][reason]:
			t.Errorf("%s has no file to look at for %s: %v", unit, reason, reasons[unit])
		}
		if reason != "" {
			faults++
		}
	}
	if faults != 5 || len(verdicts) != 12 {
		t.Errorf("%d faults among %d devices", faults, len(verdicts))
	}
}

// TestRealDevices: the real pictures are of fifteen devices or so with one to four
// pictures each, of which nothing can be told, and each row must say why. The one that
// was scaled down after calibration is for a look; none contradicts itself.
func TestRealDevices(t *testing.T) {
	needReal(t)
	_, tables := calibrated(t, realDir+"/real/us")
	looked := 0
	for _, row := range table(t, filepath.Join(tables, "devices.csv"))[1:] {
		switch {
		case row[1] == "look-at" && strings.Contains(row[2], "regions reach outside their pictures"):
			looked++
		case row[1] != "cannot-be-told" || row[2] == "":
			t.Errorf("%s is %s: %s", row[0], row[1], row[2])
		}
	}
	files := table(t, filepath.Join(tables, "look-at.csv"))[1:]
	if looked != 1 || len(files) != 1 || !strings.HasSuffix(files[0][4], "examples_ybr_color.dcm") {
		t.Errorf("%d devices to look at, files %v", looked, files)
	}
}
