package report

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strconv"

	"embedcheck/internal/finding"
)

// Shapes is how the bodies in some models were read.
type Shapes struct {
	ChordMM float64 // how far facets may lie inside a curved body
	Rows    []ShapeRow
}

// ShapeRow is one kind of representation item.
type ShapeRow struct {
	Item         string // entity name in the standard's spelling
	Exact        int    // read as it is: planar, or known to be round
	Approximated int    // curved faces are facets
	NotRead      int
	Examples     []ShapeExample // of what was not read, the first few reasons
}

// ShapeExample is one body that was not read.
type ShapeExample struct {
	Model    string // file name
	Instance uint64 // number in the file
	Why      string
}

// maxExamples is how many reasons a row keeps.
const maxExamples = 4

// Unread counts a body that was not read. Of several with one reason the first
// is the example.
func (r *ShapeRow) Unread(model string, instance uint64, why string) {
	r.NotRead++
	for _, e := range r.Examples {
		if e.Why == why {
			return
		}
	}
	if len(r.Examples) < maxExamples {
		r.Examples = append(r.Examples, ShapeExample{model, instance, why})
	}
}

// WriteShapes writes the counts as a table, with the reasons below it.
func WriteShapes(w io.Writer, s *Shapes, l Layout) error {
	b := bufio.NewWriter(w)
	p := printer{w: b, Layout: l, run: &finding.Run{}}
	var sum ShapeRow
	t := table{columns: []column{
		{title: "representation item"}, {title: "read", right: true}, {title: "approximated", right: true}, {title: "not read", right: true},
	}}
	for _, r := range s.Rows {
		t.add(finding.Plain(r.Item), strconv.Itoa(r.Exact), strconv.Itoa(r.Approximated), strconv.Itoa(r.NotRead))
		sum.Exact, sum.Approximated, sum.NotRead = sum.Exact+r.Exact, sum.Approximated+r.Approximated, sum.NotRead+r.NotRead
	}
	t.add("all", strconv.Itoa(sum.Exact), strconv.Itoa(sum.Approximated), strconv.Itoa(sum.NotRead))
	p.table(&t)
	p.line("")
	p.line(fmt.Sprintf("Approximated: curved faces are facets that lie at most %g mm inside, faces that are not flat are triangles.", s.ChordMM))
	for _, r := range s.Rows {
		for _, e := range r.Examples {
			p.line(fmt.Sprintf("Not read: %s #%d in %s: %s", finding.Plain(r.Item), e.Instance, finding.Plain(e.Model), finding.Plain(e.Why)))
		}
	}
	return b.Flush()
}

// WriteShapesJSON writes the counts for programs.
func WriteShapesJSON(w io.Writer, s *Shapes) error {
	type example struct {
		Model    string `json:"model"`
		Instance uint64 `json:"instance"`
		Why      string `json:"why"`
	}
	type row struct {
		Item         string    `json:"item"`
		Exact        int       `json:"read"`
		Approximated int       `json:"approximated"`
		NotRead      int       `json:"not_read"`
		Examples     []example `json:"examples"`
	}
	out := struct {
		Schema  int     `json:"schema"`
		ChordMM float64 `json:"chord_mm"`
		Items   []row   `json:"items"`
	}{Schema, s.ChordMM, []row{}}
	for _, r := range s.Rows {
		o := row{r.Item, r.Exact, r.Approximated, r.NotRead, []example{}}
		for _, e := range r.Examples {
			o.Examples = append(o.Examples, example(e))
		}
		out.Items = append(out.Items, o)
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", " ")
	return enc.Encode(out)
}
