package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"leadline/analyse/physical"
	"leadline/export"
	"leadline/export/deid"
)

// designHeaders are the headers that other programs may rely on, copied from the
// design and compared to the letter.
var designHeaders = map[string]string{
	"files":        "path,bytes,outcome,reason,sop_class,transfer_syntax,study_uid,sop_uid",
	"studies":      "study_uid,study_id,accession_number,study_date,study_time,start,end,duration_s,device,operator,protocol,images,stills,clips,measurements,rebuilt,differing,items_needed,items_met,completeness,complete,report_state,report_delay_h,errors,warnings",
	"images":       "study_uid,sop_uid,path,instance_number,acquired,kind,modes,view,rows,columns,frames,frame_rate_hz,duration_s,depth_mm,regions,calibration,mechanical_index,thermal_index,thermal_index_kind",
	"measurements": "study_uid,measurement,measure,label,code,scheme,source,source_uid,sop_uid,frame,observer,geometry,points,region,calibration,quantity,rebuilt,rebuilt_unit,uncertainty,reported,reported_unit,difference,tolerance,verdict,note",
	"indices":      "study_uid,index,value,unit,uncertainty,inputs,formula,reference,note",
	"completeness": "study_uid,protocol,item,kind,required,status,found,needed,evidence,note",
	"regions":      "study_uid,sop_uid,device,region,format,data_type,x0,y0,x1,y1,units_x,units_y,delta_x,delta_y,mm_per_pixel_x,mm_per_pixel_y,ruler_ratio,note",
	"findings":     "severity,finding,study_uid,sop_uid,path,message,advice",
	"codebook":     "table,column,type,unit,meaning",
	// Not of the design: added since.
	"rates":       "protocol,rate,by,item,device,hospital_unit,operator,period,numerator,denominator,share,low,high,not_assessable,small,suppressed,earlier,design_effect",
	"charts":      "protocol,device,transducer,subject,chart,point,study_uid,numerator,denominator,value,centre,lower,upper,unit,baseline,signals,note,source,item",
	"differences": "protocol,rate,item,now,before,now_numerator,now_denominator,before_numerator,before_denominator,difference,low,high,direction,suppressed,note",
	"actions":     "order,kind,why,study_uid,study_id,study_date,problem,todo,operator,device,studies,times",
	"timing":      "study_uid,first_image,zone,night,weekend,images_timed,duration_s,median_gap_s,longest_gap_s,longest_gap_after,images_before_start,images_long_after,steps_back,report_h,verified_h,note",
	"clocks":      "device,studies,images,clips,aspect,against,verdict,value,unit,spread,n,evidence,from_study_uid,to_study_uid",
	"agreement":   "comparison,device,measure,observer,other_observer,statistic,value,low,high,unit,n,studies",
}

// addedColumns stand after those of the design.
var addedColumns = map[string]string{
	"measurements": "reference,mode,second_sop_uid,second_frame,second_points,second_region",
	"agreement":    "mode,note",
	"images":       "view_source",
	"completeness": "severity",
}

// sheetOf names the sheet that shows a table. Differences has no rows in an archive of
// one month.
var sheetOf = map[string]string{
	"files": "Files", "studies": "Studies", "images": "Images", "measurements": "Measurements", "indices": "Indices",
	"completeness": "Completeness", "regions": "Regions", "findings": "Findings", "agreement": "Agreement", "rates": "Rates", "charts": "Charts", "actions": "Actions", "timing": "Timing", "clocks": "Clocks", "codebook": "Codebook",
}

// demoOutputs audits the demo archive once, with its tables.
func demoOutputs(t *testing.T) (workbook, tables string) {
	t.Helper()
	dir := t.TempDir()
	opts := auditOptions{runOptions: runOptions{
		out: filepath.Join(dir, "audit.xlsx"), tables: filepath.Join(dir, "tables"),
		identity: deid.Study, failOn: failNever, quiet: true,
	}}
	var out, errs bytes.Buffer
	if err := runAudit(context.Background(), []string{demoDir}, opts, streams{out: &out, err: &errs}, progressOn(&errs, true)); err != nil {
		t.Fatal(err)
	}
	return opts.out, opts.tables
}

func table(t *testing.T, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// TestHeaders: the tables carry the design's headers, new columns at the end only,
// and no other table is written.
func TestHeaders(t *testing.T) {
	_, dir := demoOutputs(t)
	for name, want := range designHeaders {
		if added := addedColumns[name]; added != "" {
			want += "," + added
		}
		if got := strings.Join(table(t, filepath.Join(dir, name+".csv"))[0], ","); got != want {
			t.Errorf("%s.csv:\n%s\nwant\n%s", name, got, want)
		}
	}
	if files, _ := os.ReadDir(dir); len(files) != len(designHeaders) {
		t.Errorf("%d tables, want %d", len(files), len(designHeaders))
	}
}

// TestWorkbookHoldsTheTables: every sheet has as many rows as its table, a table
// without rows has none, and every
// text of a row of the table stands in the row of the sheet, ids of ours in words and
// unit codes as people write them. Numbers and dates are
// typed there and formatted for reading, so texts are what is compared.
func TestWorkbookHoldsTheTables(t *testing.T) {
	workbook, dir := demoOutputs(t)
	book, err := excelize.OpenFile(workbook)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	for name, sheet := range sheetOf {
		rows := table(t, filepath.Join(dir, name+".csv"))
		if index, _ := book.GetSheetIndex(sheet); len(rows) == 1 && index < 0 {
			continue // nothing to list, no sheet
		}
		cells, err := book.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) == 1 || len(cells) != len(rows) {
			t.Errorf("%s: %d rows in the sheet, %d in the table", sheet, len(cells), len(rows))
			continue
		}
		compareTexts(t, sheet, rows, cells)
	}
	if first := book.GetSheetList()[0]; first != "Overview" {
		t.Errorf("the first sheet is %s", first)
	}
}

func compareTexts(t *testing.T, sheet string, rows, cells [][]string) {
	t.Helper()
	compared := 0
	for i := 1; i < len(rows); i++ {
		shown := map[string]bool{}
		for _, c := range cells[i] {
			shown[c] = true
		}
		for j, field := range rows[i] {
			if _, err := strconv.ParseFloat(field, 64); err == nil {
				continue
			}
			if !strings.ContainsAny(field, "abcdefghijklmnopqrstuvwxyz") || field == "true" || field == "false" || strings.Contains(field, "\n") {
				continue
			}
			compared++
			if !shown[field] && !shown[export.Words(field)] && !shown[physical.Printed(field)] && !shown[titled(export.ViewTitles, field)] && !shown[titled(export.MeasureTitles, field)] {
				t.Errorf("%s row %d: %s %q stands in the table and not in the sheet", sheet, i+1, rows[0][j], field)
				return
			}
		}
	}
	if compared == 0 {
		t.Errorf("%s: no text was compared", sheet)
	}
}

// titled is how a sheet shows the ids of views or measures.
func titled(as export.Wording, text string) string {
	return export.Column{Wording: as}.Shown(export.Cell{Kind: export.Text, Text: text}).Text
}

// TestWorkbookOpens: LibreOffice opens the workbook and prints it; the first page
// names the tool's cautions.
func TestWorkbookOpens(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	for _, tool := range []string{"soffice", "pdftotext"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("skipped: %s is not installed", tool)
		}
	}
	workbook, dir := demoOutputs(t)
	profile := "-env:UserInstallation=file://" + t.TempDir()
	if out, err := exec.Command("soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", dir, workbook).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	text, err := exec.Command("pdftotext", filepath.Join(dir, "audit.pdf"), "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Audit of ultrasound studies", "Not a medical device, not for diagnosis", "Functional newborn heart study", "How it was computed"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the printed workbook lacks %q", want)
		}
	}
}
