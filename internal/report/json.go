package report

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"unicode/utf8"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// Schema is the version of findings.json that WriteJSON writes and ReadJSON
// reads.
const Schema = 1

// WriteJSON writes findings.json. Figures are rounded: mm and degrees to 0.01,
// ratios to 0.001, places in metres to 1e-6. Characters that could steer a
// terminal are written as escapes, so that the file can be shown on one.
func WriteJSON(w io.Writer, run *finding.Run) error { return WriteJSONSince(w, run, nil) }

// WriteJSONSince writes findings.json with what an earlier run adds to it; c
// may be nil.
func WriteJSONSince(w io.Writer, run *finding.Run, c *finding.Comparison) error {
	run = run.Sorted()
	b := bufio.NewWriterSize(w, 64<<10)
	j := jsonWriter{w: b}
	j.textf("{\n \"schema\": %d,\n \"models\": ", Schema)
	list(&j, " ", run.Models, func(m *finding.ModelInfo) { j.value(modelOut(m)) })
	j.remarks(run.Remarks)
	j.text(",\n \"ruleset\": ")
	j.value(rulesetJSON{run.Ruleset.Name, run.Ruleset.SHA256})
	j.text(",\n \"counts\": ")
	j.counts(&run.Counts)
	j.text(",\n \"findings\": ")
	list(&j, " ", run.Findings, j.finding)
	j.since(c)
	j.text("\n}\n")
	if j.err != nil {
		return j.err
	}
	return b.Flush()
}

// jsonWriter writes one object a line: encoding/json alone would either put a
// place over five lines or a whole file on one.
type jsonWriter struct {
	w   *bufio.Writer
	buf bytes.Buffer
	err error
}

func (j *jsonWriter) text(s string) {
	if j.err == nil {
		_, j.err = j.w.WriteString(s)
	}
}

func (j *jsonWriter) textf(format string, a ...any) { j.text(fmt.Sprintf(format, a...)) }

// value writes v on one line.
func (j *jsonWriter) value(v any) { j.raw(j.encode(v)) }

func (j *jsonWriter) raw(b []byte) {
	if j.err == nil {
		_, j.err = j.w.Write(b)
	}
}

// encode gives v as JSON; the bytes are good until the next call.
func (j *jsonWriter) encode(v any) []byte {
	if j.err != nil {
		return nil
	}
	j.buf.Reset()
	e := json.NewEncoder(&j.buf)
	e.SetEscapeHTML(false)
	j.err = e.Encode(v)
	return escapeUnsafe(bytes.TrimSuffix(j.buf.Bytes(), []byte("\n")))
}

// list writes one element a line, indented by one more than the line it is on.
func list[T any](j *jsonWriter, indent string, of []T, write func(*T)) {
	if len(of) == 0 {
		j.text("[]")
		return
	}
	for i := range of {
		if i == 0 {
			j.text("[\n" + indent + " ")
		} else {
			j.text(",\n" + indent + " ")
		}
		write(&of[i])
	}
	j.text("\n" + indent + "]")
}

func (j *jsonWriter) counts(c *finding.Counts) {
	j.textf(`{"hosts":%d,"items":%d,"sets":%d,"anchors":%d,"bars":%d,"unchecked":%d,"hold":%d,"review":%d,"note":%d`,
		c.Hosts, c.Items, c.Sets, c.Anchors, c.Bars, c.Unchecked, c.Hold, c.Review, c.Note)
	j.text(`,"kinds":{`)
	for i, k := range slices.Sorted(maps.Keys(c.Kinds)) {
		if i > 0 {
			j.text(",")
		}
		j.value(k)
		j.textf(":%d", c.Kinds[k])
	}
	j.text("}}")
}

// finding writes a finding with one instance a line.
func (j *jsonWriter) finding(f *finding.Finding) {
	j.part(headJSON{f.ID, f.Rule, f.Priority.String(), f.Status}, "{", ",\n   ")
	j.text(`"host":`)
	j.value(refOut(f.Host))
	j.text(`,"set":`)
	j.value(f.Set)
	j.text(`,` + "\n   " + `"instances":`)
	list(j, "   ", f.Instances, func(in *finding.Instance) { j.value(instanceOut(in)) })
	j.text(",\n   ")
	j.part(tailJSON{f.Title, f.Message, f.Source, lifeOut(&f.Life)}, "", "}")
}

// part writes the members of an object without its braces.
func (j *jsonWriter) part(v any, before, after string) {
	b := j.encode(v)
	j.text(before)
	if len(b) > 2 {
		j.raw(b[1 : len(b)-1])
	}
	j.text(after)
}

type headJSON struct {
	ID       string `json:"id"`
	Rule     string `json:"rule"`
	Priority string `json:"priority"`
	Status   string `json:"status"`
}

type tailJSON struct {
	Title   string `json:"title"`
	Message string `json:"message"`
	Source  string `json:"source"`
	lifeJSON
}

type rulesetJSON struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

type modelJSON struct {
	Path    string `json:"path"`
	SHA256  string `json:"sha256"`
	Schema  string `json:"ifc"`
	Project string `json:"project"`
	Name    string `json:"name,omitempty"`
	Date    string `json:"date,omitempty"`
	Unit    string `json:"unit,omitempty"`

	Map       *mapJSON `json:"map,omitempty"`
	TrueNorth *number  `json:"true_north_degrees,omitempty"`
}

// mapJSON is where the model's coordinates lie on a map.
type mapJSON struct {
	CRS       string `json:"crs,omitempty"`
	Eastings  number `json:"eastings_m"`
	Northings number `json:"northings_m"`
	Height    number `json:"height_m"`
	Turn      number `json:"x_axis_degrees"`
	Scale     number `json:"scale"`
}

func modelOut(m *finding.ModelInfo) modelJSON {
	out := modelJSON{Path: m.Path, SHA256: m.SHA256, Schema: m.Schema, Project: m.Project, Name: m.Name, Date: m.Date, Unit: m.Unit}
	if p := m.Map; p != nil {
		out.Map = &mapJSON{
			CRS: p.CRS, Eastings: number(finding.Round(p.Eastings, 6)), Northings: number(finding.Round(p.Northings, 6)),
			Height: number(finding.Round(p.Height, 6)), Turn: number(finding.Round(p.Turn, 8)), Scale: number(p.Scale),
		}
	}
	if m.TrueNorth != nil {
		north := number(finding.Round(*m.TrueNorth, 8))
		out.TrueNorth = &north
	}
	return out
}

// remarks are left out when there are none.
func (j *jsonWriter) remarks(texts []string) {
	if len(texts) > 0 {
		j.text(",\n \"remarks\": ")
		list(j, " ", texts, func(s *string) { j.value(*s) })
	}
}

type refJSON struct {
	GlobalID string `json:"global_id"`
	Class    string `json:"class"`
	Name     string `json:"name"`
	Kind     string `json:"kind,omitempty"`
	Mark     string `json:"mark,omitempty"`
	Model    string `json:"model,omitempty"`
}

// refOut is null for an element that there is none of.
func refOut(r finding.Ref) *refJSON {
	if r == (finding.Ref{}) {
		return nil
	}
	return &refJSON{GlobalID: r.GlobalID, Class: r.Class, Name: r.Name, Mark: r.Mark, Model: r.Model}
}

// instanceJSON leaves measured, required, unit, relation and governs out where
// nothing was measured: a 0 there would be a lie. Anchor -1 is the item itself.
type instanceJSON struct {
	Item     *refJSON   `json:"item"`
	Anchor   int        `json:"anchor"`
	Measured *number    `json:"measured,omitempty"`
	Required *number    `json:"required,omitempty"`
	Unit     string     `json:"unit,omitempty"`
	Relation string     `json:"relation,omitempty"`
	Governs  string     `json:"governs,omitempty"`
	At       [3]number  `json:"at"`
	Normal   *[3]number `json:"normal,omitempty"`
	Others   []refJSON  `json:"others"`
	Text     string     `json:"text,omitempty"`
}

func instanceOut(in *finding.Instance) instanceJSON {
	out := instanceJSON{
		Item: refOut(in.Item), Anchor: in.Anchor,
		At: point(in.At), Others: []refJSON{}, Text: in.Text,
	}
	if out.Item == nil {
		out.Item = &refJSON{}
	}
	out.Item.Kind = in.Kind
	if in.Relation != finding.None {
		m, r := in.Rounded()
		out.Measured, out.Required = (*number)(&m), (*number)(&r)
		out.Unit, out.Relation, out.Governs = in.Unit, string(in.Relation), in.Governs
	}
	if in.Normal != (geom.Vec{}) {
		n := point(in.Normal)
		out.Normal = &n
	}
	for _, o := range in.Others {
		if r := refOut(o); r != nil {
			out.Others = append(out.Others, *r)
		}
	}
	return out
}

func point(p geom.Vec) [3]number {
	return [3]number{number(finding.Round(p.X, 6)), number(finding.Round(p.Y, 6)), number(finding.Round(p.Z, 6))}
}

// number is written without exponent; null when it is no finite number, which
// JSON cannot say.
type number float64

func (n number) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, v, 'f', -1, 64), nil
}

// escapeUnsafe writes characters beyond ASCII that could steer a terminal as
// \u escapes; inside JSON they stand in strings only.
func escapeUnsafe(b []byte) []byte {
	if !slices.ContainsFunc(b, func(c byte) bool { return c >= 0x7f }) {
		return b
	}
	out := make([]byte, 0, len(b)+16)
	for i := 0; i < len(b); {
		r, n := utf8.DecodeRune(b[i:])
		switch {
		case r < 0x10000 && finding.Unsafe(r):
			out = fmt.Appendf(out, `\u%04x`, r)
		case finding.Unsafe(r):
			r -= 0x10000
			out = fmt.Appendf(out, `\u%04x\u%04x`, 0xd800+r>>10, 0xdc00+r&0x3ff)
		default:
			out = append(out, b[i:i+n]...)
		}
		i += n
	}
	return out
}
