package ingest

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// EarlierAudit is what the tables of an audit done before say of its studies.
type EarlierAudit struct {
	// Dir is the folder of the tables, as given.
	Dir     string
	Studies []EarlierStudy
}

// EarlierStudy is one row of studies.csv with its rows of completeness.csv.
type EarlierStudy struct {
	UID string
	// Start is a day, perhaps with a time.
	Start       Stamp
	DurationS   Optional[float64]
	ReportState string
	DelayH      Optional[float64]
	Items       []EarlierItem
}

// EarlierItem is one row of completeness.csv.
type EarlierItem struct {
	Protocol, Item, Status string
	Required               bool
}

// The tables of an audit that are read, and the columns that are wanted of each;
// others are passed over, so that tables of another release can be read.
const (
	earlierStudies      = "studies.csv"
	earlierCompleteness = "completeness.csv"
)

var (
	earlierStudyColumns = []tableColumn{
		{"study_uid", true}, {"study_date", true}, {"study_time", true}, {"duration_s", true}, {"report_state", true},
		{"report_delay_h", true}, {"study_id", false}, {"device", false}, {"operator", false},
	}
	earlierItemColumns = []tableColumn{{"study_uid", true}, {"protocol", true}, {"item", true}, {"required", true}, {"status", true}}
	earlierStatuses    = []string{"met", "partial", "missing", "not-assessable", "not-applicable"}
)

// Limits of a table that an audit wrote: a year of a large unit.
const (
	maxAuditBytes = 2 << 30
	maxAuditRows  = 20_000_000
)

// ReadEarlier reads the folder of tables that an audit wrote. Errors are those of
// ReadCalipers. Tables of identity none are refused: their dates are shifted.
func ReadEarlier(dir string) (*EarlierAudit, error) {
	a := &EarlierAudit{Dir: dir}
	at := map[string]int{}
	pseudonyms := false
	path := filepath.Join(dir, earlierStudies)
	err := readAuditTable(path, earlierStudyColumns, func(c cells) {
		uid := c.get("study_uid")
		if _, twice := at[uid]; twice || uid == "" {
			c.fail("study_uid", "the UID of a study, once")
			return
		}
		pseudonyms = pseudonyms || c.pseudonymous()
		at[uid] = len(a.Studies)
		a.Studies = append(a.Studies, c.earlierStudy(strings.Clone(uid)))
	})
	switch {
	case err != nil:
		return nil, err
	case pseudonyms:
		return nil, &TableError{File: path, Expected: "tables written with identity study or full: with identity none each patient's dates are shifted, and no month can be told"}
	}
	return a, a.readItems(at)
}

func (a *EarlierAudit) readItems(at map[string]int) error {
	words := map[string]string{}
	return readAuditTable(filepath.Join(a.Dir, earlierCompleteness), earlierItemColumns, func(c cells) {
		i, known := at[c.get("study_uid")]
		if !known {
			c.fail("study_uid", "a study of "+earlierStudies)
			return
		}
		if item, ok := c.earlierItem(words); ok {
			a.Studies[i].Items = append(a.Studies[i].Items, item)
		}
	})
}

func readAuditTable(path string, columns []tableColumn, row func(cells)) error {
	f, err := openTable(path)
	if err != nil {
		return err
	}
	defer f.Close()
	return readAudit(path, f, columns, row)
}

// readAudit reads a table from r; path is what errors call it.
func readAudit(path string, r io.Reader, columns []tableColumn, row func(cells)) error {
	return readTableWithin(path, r, tableLimits{bytes: maxAuditBytes, rows: maxAuditRows, others: true}, columns, nil, row)
}

// pseudonym is what identity none makes of study ids, operators and serial numbers.
var pseudonym = regexp.MustCompile(`(^id|^person| sn|^sn)-[0-9a-f]{16}$`)

func (c cells) pseudonymous() bool {
	return slices.ContainsFunc([]string{"study_id", "device", "operator"}, func(column string) bool {
		return slices.ContainsFunc(strings.Split(c.get(column), "; "), pseudonym.MatchString)
	})
}

func (c cells) earlierStudy(uid string) EarlierStudy {
	s := EarlierStudy{UID: uid, DurationS: c.decimal("duration_s"), DelayH: c.decimal("report_delay_h"), ReportState: strings.Clone(c.get("report_state"))}
	day := c.get("study_date")
	s.Start = ParseStamp(strings.ReplaceAll(day, "-", ""), c.get("study_time"))
	if day != "" && s.Start.IsZero() {
		c.fail("study_date", "a day as YYYY-MM-DD, or nothing")
	}
	return s
}

// maxEarlierTime bounds seconds and hours, of which no audit writes as many as the
// years 0 to 9999 have (3.2e11 s): sums and differences stay numbers.
const maxEarlierTime = 1e12

// decimal reads a number that may be absent.
func (c cells) decimal(column string) Optional[float64] {
	text := c.get(column)
	if text == "" {
		return Optional[float64]{}
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(math.Abs(v) <= maxEarlierTime) {
		c.fail(column, fmt.Sprintf("a number of at most %g, or nothing", float64(maxEarlierTime)))
		return Optional[float64]{}
	}
	return Some(v)
}

// earlierItem reads an item; equal words are kept once.
func (c cells) earlierItem(words map[string]string) (item EarlierItem, ok bool) {
	word := func(column string) string {
		text := c.get(column)
		if _, there := words[text]; !there {
			text = strings.Clone(text)
			words[text] = text
		}
		return words[text]
	}
	item = EarlierItem{Protocol: word("protocol"), Item: word("item"), Status: word("status"), Required: c.get("required") == "true"}
	switch {
	case item.Protocol == "" || item.Item == "":
		c.fail("item", "a protocol and an item")
	case !slices.Contains(earlierStatuses, item.Status):
		c.fail("status", oneOf(earlierStatuses, item.Status))
	case !item.Required && c.get("required") != "false":
		c.fail("required", "true or false")
	default:
		return item, true
	}
	return item, false
}
