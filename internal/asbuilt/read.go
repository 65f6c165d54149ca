package asbuilt

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"embedcheck/internal/geom"
	"embedcheck/internal/grid"
	"embedcheck/internal/survey"
)

// Sheet is a form that was filled in, or another table with a key and a value.
type Sheet struct {
	Name    string
	Unit    survey.Unit // of the values, as the header states
	Entries []Entry
}

// Entry is one row: a value, a point, or nothing yet.
type Entry struct {
	Row             int // in the file, from 1
	Host, Set, What string
	Key             string // as written, or put together from the three
	File            string // model file that the form was made of; "" without one
	Value           *float64
	Point           *geom.Vec
	Stated          *float64 // the model's value as the form has it, mm
	Bad             string   // why what stands there is no value; "" when it is one, or blank
}

// blank reports whether nothing was filled in.
func (e *Entry) blank() bool { return e.Value == nil && e.Point == nil && e.Bad == "" }

// ReadSheet reads measured values from a CSV or XLSX file.
func ReadSheet(path string) (*Sheet, error) {
	g, err := grid.Read(path)
	if err != nil {
		return nil, err
	}
	return parse(g)
}

// ParseSheet is ReadSheet for a file that is in memory; name stands in messages.
func ParseSheet(name string, data []byte) (*Sheet, error) {
	g, err := grid.Parse(name, data)
	if err != nil {
		return nil, err
	}
	return parse(g)
}

func parse(g *grid.Sheet) (*Sheet, error) {
	for row := range g.Rows[:min(len(g.Rows), headRows)] {
		c := columnsOf(g, row)
		if !c.usable() {
			continue
		}
		if err := c.units(); err != nil {
			return nil, err
		}
		s := &Sheet{Name: g.Name, Unit: c.unit}
		heads := g.Rows[row].Cells
		for r := row + 1; r < len(g.Rows); r++ {
			if !slices.Equal(g.Rows[r].Cells, heads) { // sheets that were put below each other
				s.Entries = append(s.Entries, c.entry(r))
			}
		}
		return s, nil
	}
	return nil, fmt.Errorf(`%s: no row of headings was found: "key" (or "host", "set" and "dimension") and either "measured (mm)" or "x (mm)", "y (mm)" and "z (mm)"; embedcheck sheet MODEL --form makes one`, g.Name)
}

// headRows is how far down the headings are looked for.
const headRows = 20

// columns are where things stand in a sheet; -1 for what has no column.
type columns struct {
	g                          *grid.Sheet
	head                       int // row of the headings
	host, set, what, key, file int
	value, model               int
	at                         [3]int
	unit, modelUnit            survey.Unit
}

// names are the headings of each column, lower case.
var names = map[string][]string{
	"host":  {headHost},
	"set":   {headSet, "mark", "item"},
	"what":  {headWhat, headPoint, "what"},
	"key":   {headKey},
	"file":  {headFile},
	"value": {headMeasured, "value", "measured value"},
	"model": {headModel},
	"x":     {"x", "measured x", "easting", "east"},
	"y":     {"y", "measured y", "northing", "north"},
	"z":     {"z", "measured z", "height", "elevation"},
}

func columnsOf(g *grid.Sheet, row int) *columns {
	heads := g.Headings(row)
	find := func(what string) int {
		return slices.IndexFunc(heads, func(h grid.Heading) bool {
			name, _ := unitOf(h)
			return slices.Contains(names[what], name)
		})
	}
	return &columns{
		g: g, head: row, host: find("host"), set: find("set"), what: find("what"), key: find("key"), file: find("file"),
		value: find("value"), model: find("model"), at: [3]int{find("x"), find("y"), find("z")},
	}
}

// unitOf parts a heading: "measured mm" is measured in mm, as "measured (mm)" is.
func unitOf(h grid.Heading) (name, unit string) {
	if h.Unit == "" {
		if i := strings.LastIndexByte(h.Name, ' '); i >= 0 {
			if _, ok := survey.ParseUnit(h.Name[i+1:]); ok {
				return h.Name[:i], h.Name[i+1:]
			}
		}
	}
	return h.Name, h.Unit
}

func (c *columns) usable() bool {
	named := c.key >= 0 || c.host >= 0 && c.set >= 0 && c.what >= 0
	return named && (c.value >= 0 || c.points())
}

func (c *columns) points() bool { return c.at[0] >= 0 && c.at[1] >= 0 && c.at[2] >= 0 }

// units reads the units of the headings. Without one a value may be anything.
func (c *columns) units() error {
	heads := c.g.Headings(c.head)
	first := -1
	for _, col := range []int{c.value, c.at[0], c.at[1], c.at[2]} {
		if col < 0 {
			continue
		}
		_, text := unitOf(heads[col])
		u, ok := survey.ParseUnit(text)
		switch {
		case text == "":
			return fmt.Errorf("%s: %q states no unit; write it as \"%s (mm)\"; mm, cm, m, in and ft are known", c.g.At(c.head, col), c.g.Cell(c.head, col), heads[col].Name)
		case !ok:
			return fmt.Errorf("%s: unit %q is not known; mm, cm, m, in and ft are", c.g.At(c.head, col), text)
		case first >= 0 && u != c.unit:
			return fmt.Errorf("%s: the unit is %s, in column %s it is %s; one sheet has one unit", c.g.At(c.head, col), u.Name, c.g.Cell(c.head, first), c.unit.Name)
		}
		c.unit, first = u, col
	}
	if c.model >= 0 {
		_, text := unitOf(heads[c.model])
		c.modelUnit, _ = survey.ParseUnit(text)
	}
	return nil
}

// entry reads one row.
func (c *columns) entry(row int) Entry {
	text := func(col int) string {
		if col < 0 {
			return ""
		}
		return c.g.Cell(row, col)
	}
	e := Entry{Row: c.g.Rows[row].Number, Host: text(c.host), Set: text(c.set), What: text(c.what), Key: text(c.key), File: text(c.file)}
	if e.Key == "" && e.Host+e.Set+e.What != "" {
		e.Key = e.Host + "/" + e.Set + "/" + e.What
	}
	// Not by the sheet's reader of numbers: this column may have kept its decimal
	// points while people filled in commas.
	if v, err := strconv.ParseFloat(strings.Replace(text(c.model), ",", ".", 1), 64); err == nil && c.modelUnit.MM > 0 {
		v *= c.modelUnit.MM
		e.Stated = &v
	}
	if extra := len(c.g.Rows[row].Cells) - len(c.g.Rows[c.head].Cells); extra > 0 {
		e.Bad = "more cells than headings; is a decimal comma not in quotes?"
		return e
	}
	var err error
	if c.value >= 0 {
		if e.Value, err = c.length(row, c.value, c.unit); err != nil {
			e.Bad = err.Error()
		}
	}
	if c.points() && e.Value == nil && e.Bad == "" {
		c.point(row, &e)
	}
	if e.Key == "" && !e.blank() {
		e.Value, e.Point, e.Bad = nil, nil, "a value without a key, or host, set and dimension"
	}
	return e
}

// point reads the three coordinates of a row.
func (c *columns) point(row int, e *Entry) {
	var p [3]float64
	given := 0
	for i, col := range c.at {
		v, err := c.length(row, col, c.unit)
		if err != nil {
			e.Bad = err.Error()
			return
		}
		if v != nil {
			p[i] = *v
			given++
		}
	}
	switch given {
	case 0:
	case 3:
		e.Point = &geom.Vec{X: p[0], Y: p[1], Z: p[2]}
	default:
		e.Bad = fmt.Sprintf("a point has x, y and z; %d of them are given", given)
	}
}
