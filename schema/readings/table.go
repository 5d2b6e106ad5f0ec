package readings

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

// column is one of the table: what of a reading it holds, and how many SI units one of its own is.
type column struct {
	name   string
	factor float64
}

const headers = "`pressure (Pa), flow (L/s)`"

// kinds are the columns that count, by the names that they may have.
var columnNames = map[string]string{"pressure": "pressure", "pressure difference": "pressure", "dp": "pressure", "flow": "flow", "air flow": "flow", "blank": "blank", "blank flow": "blank"}

var columnKinds = map[string]quantity.Kind{"pressure": quantity.KindPressure, "flow": quantity.KindFlow, "blank": quantity.KindFlow}

// table reads the header and the readings. Separators are commas, semicolons or tabs, as the header has them.
func (r *reader) table() {
	rows := make([]string, len(r.lines))
	for i, line := range r.lines {
		if _, _, is := comment(line); !is && strings.Trim(line, " \t,;") != "" {
			rows[i] = line
		}
	}
	in := csv.NewReader(strings.NewReader(strings.Join(rows, "\n")))
	in.Comma, in.FieldsPerRecord, in.TrimLeadingSpace = separator(rows), -1, true
	t := &table{reader: r, in: in, decimalComma: in.Comma == ';' && !strings.Contains(values(rows), ".")}
	header, err := in.Read()
	if err == io.EOF {
		r.problem(0, 0, 0, "", "no header and no readings", headers+" and a reading a line", "write them below what is said of the test")
		return
	}
	if !t.well(err) || !t.header(header) {
		return
	}
	for !r.full {
		fields, err := in.Read()
		if err == io.EOF {
			break
		}
		if !t.well(err) {
			return
		}
		if len(r.file.Drops) == MaxReadings {
			line, _ := in.FieldPos(0)
			r.problem(line-1, 0, 0, "", fmt.Sprintf("more than %d readings", MaxReadings), "at most as many", "Take means, or give a part.")
			return
		}
		t.row(fields)
	}
	if len(r.file.Drops) == 0 && len(r.problems) == 0 {
		line := r.file.header.Start.Line
		r.problem(line-1, 0, 0, "", "a header and no readings", "a reading a line below it", "write the readings down")
	}
}

// separator is what parts the columns of the first row.
func separator(rows []string) rune {
	for _, row := range rows {
		if row == "" {
			continue
		}
		for _, c := range []rune{';', '\t'} {
			if strings.ContainsRune(row, c) {
				return c
			}
		}
		break
	}
	return ','
}

// values is all below the header.
func values(rows []string) string {
	for i, row := range rows {
		if row != "" {
			return strings.Join(rows[i+1:], "\n")
		}
	}
	return ""
}

// table is the readings as they come.
type table struct {
	*reader
	in           *csv.Reader
	decimalComma bool
	columns      []column
	has          map[string]bool
}

// well tells an error of the CSV itself.
func (t *table) well(err error) bool {
	var at *csv.ParseError
	if err == nil {
		return true
	}
	if errors.As(err, &at) {
		t.problem(at.Line-1, max(at.Column-1, 0), 1, "", "quotes that do not pair", "plain values, or quotes around a whole one", "take the quotes out: readings need none")
		return false
	}
	t.problem(0, 0, 0, "", err.Error(), wanted, "look at the file")
	return false
}

// header reads names and units. A column that is not known is left out, and named.
func (t *table) header(fields []string) bool {
	before := len(t.problems)
	t.has = map[string]bool{}
	line, _ := t.in.FieldPos(0)
	t.file.header = t.span(line-1, 0, len(t.lines[line-1]))
	var others []string
	for i, field := range fields {
		name, unit := nameAndUnit(field)
		known, ok := columnNames[name]
		if !ok {
			others = append(others, name)
			t.columns = append(t.columns, column{})
			if name != "" {
				t.file.Ignored = append(t.file.Ignored, strings.TrimSpace(field))
			}
			continue
		}
		t.columns = append(t.columns, column{known, t.unit(i, known, field, unit)})
		if t.has[known] {
			t.cell(i, field, known, "a second column of "+known, "one of each", "take one out, or give it another name: it is then left out")
		}
		t.has[known] = true
	}
	for _, need := range []string{"pressure", "flow"} {
		if !t.has[need] {
			t.problem(line-1, 0, len(t.lines[line-1]), "", "a header without "+need+": "+shown(strings.TrimSpace(t.lines[line-1])),
				"columns of pressure and flow with their units in brackets, as in "+headers+near(need, others), "name the columns in the first line that does not begin with #")
		}
	}
	return len(t.problems) == before
}

// near is the spelling of a column that may be meant.
func near(need string, others []string) string {
	for _, name := range others {
		if hint := schema.Nearest(name, []string{need}); hint != "" {
			return hint
		}
	}
	return ""
}

// nameAndUnit parts `flow (m3/h)` or `flow [m3/h]`.
func nameAndUnit(field string) (name, unit string) {
	field = strings.TrimSpace(field)
	open := strings.IndexAny(field, "([")
	if open < 0 {
		return plain(field), ""
	}
	unit = strings.TrimSpace(field[open+1:])
	if strings.HasSuffix(unit, ")") || strings.HasSuffix(unit, "]") {
		unit = unit[:len(unit)-1]
	}
	return plain(field[:open]), strings.TrimSpace(unit)
}

func plain(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(s), "_", " ")), " ")
}

// unit is how many SI units one of a column is.
func (t *table) unit(i int, known, field, unit string) float64 {
	kind := columnKinds[known]
	allowed := strings.Join(kind.Units(), ", ")
	if unit == "" {
		t.cell(i, field, known, "a column of "+known+" without a unit", known+" ("+kind.Units()[0]+"), or in one of "+allowed, "write the unit in brackets behind the name")
		return 1
	}
	v, err := quantity.ParseSI(kind, "1 "+unit)
	if err != nil {
		t.cell(i, field, known, "unit "+shown(unit)+" of "+known, "one of "+allowed+schema.Nearest(unit, kind.Units()), "turn the readings into one of these")
		return 1
	}
	switch known {
	case "pressure":
		t.file.PressureUnit = unit
	case "flow":
		t.file.FlowUnit = canonical(unit, v, kind)
	}
	return v
}

// canonical is a unit as it is spelt elsewhere.
func canonical(unit string, factor float64, kind quantity.Kind) string {
	for _, u := range kind.Units() {
		if v, err := quantity.ParseSI(kind, "1 "+u); err == nil && v == factor {
			return u
		}
	}
	return unit
}

// cell is a problem of a field of the row in hand.
func (t *table) cell(i int, field, name, found, allowed, do string) {
	line, at := t.in.FieldPos(i)
	t.problem(line-1, at-1, len(field), name, found, allowed, do)
}

// row reads a reading.
func (t *table) row(fields []string) {
	line, _ := t.in.FieldPos(0)
	for i := len(t.columns); i < len(fields); i++ {
		if strings.TrimSpace(fields[i]) != "" {
			do := "give each reading as many values as the header has names"
			if t.in.Comma == ',' {
				do = "write decimal points and not commas, or part the columns by semicolons"
			}
			t.cell(i, fields[i], "", fmt.Sprintf("%d values under %d names", len(fields), len(t.columns)), "one each", do)
			return
		}
	}
	got, right := map[string]float64{}, true
	for i, c := range t.columns {
		if c.name == "" {
			continue
		}
		if i >= len(fields) || strings.TrimSpace(fields[i]) == "" {
			t.problem(line-1, 0, len(t.lines[line-1]), c.name, "a reading without "+c.name, "a number", "give it, or take the reading out")
			right = false
			continue
		}
		v, do := parse(strings.TrimSpace(fields[i]), t.decimalComma)
		if do != "" {
			t.cell(i, fields[i], c.name, shown(strings.TrimSpace(fields[i])), "a number such as 12.5 or 1.2e-3, its unit in the header", do)
			right = false
			continue
		}
		got[c.name] = v * c.factor
	}
	if !right {
		return
	}
	f := t.file
	f.Drops, f.Flows = append(f.Drops, got["pressure"]), append(f.Flows, got["flow"])
	f.Spans = append(f.Spans, t.span(line-1, 0, len(t.lines[line-1])))
	if t.has["blank"] {
		f.Blanks = append(f.Blanks, got["blank"])
	}
}

// parse reads a decimal number, or says what to do.
func parse(s string, decimalComma bool) (float64, string) {
	const longest, most = 40, 1e9
	if decimalComma && strings.Count(s, ",") == 1 {
		s = strings.Replace(s, ",", ".", 1)
	}
	switch {
	case len(s) > longest:
		return 0, "write it with fewer figures"
	case strings.Contains(s, ","):
		return 0, "write a decimal point and no commas within a number"
	case strings.Trim(s, "0123456789.eE+-") != "" || !strings.ContainsAny(s, "0123456789"):
		return 0, "write figures alone"
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.Abs(v) > most {
		return 0, "check the number"
	}
	return v, ""
}
