package report

import (
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/tidwall/gjson"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// Limits of what ReadJSON takes: far above any real file, low enough that a
// hostile one costs a message and not the machine.
const (
	maxJSONBytes = 512 << 20
	maxJSONDepth = 64
)

// ReadJSON reads a findings.json that WriteJSON wrote, at this or an earlier
// time. Members that it does not know are passed over. Errors name the member.
func ReadJSON(r io.Reader) (*finding.Run, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxJSONBytes+1))
	if err != nil {
		return nil, err
	}
	if len(data) > maxJSONBytes {
		return nil, fmt.Errorf("findings file is larger than %d MiB", maxJSONBytes>>20)
	}
	if depth(data) > maxJSONDepth {
		return nil, fmt.Errorf("findings file is nested deeper than %d levels", maxJSONDepth)
	}
	if !gjson.ValidBytes(data) {
		return nil, errors.New("findings file is no valid JSON; it may have been cut short")
	}
	root := gjson.ParseBytes(data)
	var in reader
	schema := in.integer(root, "schema")
	if in.err == nil && schema != Schema {
		return nil, fmt.Errorf("findings file has schema %d; this program reads %d", schema, Schema)
	}
	run := &finding.Run{}
	for i, m := range in.array(root, "models") {
		in.at("models", i)
		run.Models = append(run.Models, finding.ModelInfo{
			Path: in.text(m, "path"), SHA256: in.text(m, "sha256"), Schema: in.text(m, "ifc"),
			Project: in.text(m, "project"), Name: in.optional(m, "name"),
			Date: in.optional(m, "date"), Unit: in.optional(m, "unit"),
			Map: in.mapPlace(m.Get("map")), TrueNorth: in.optionalNumber(m, "true_north_degrees"),
		})
	}
	in.place = ""
	for _, r := range root.Get("remarks").Array() {
		run.Remarks = append(run.Remarks, r.String())
	}
	set := root.Get("ruleset")
	run.Ruleset = finding.Ruleset{Name: in.text(set, "name"), SHA256: in.text(set, "sha256")}
	run.Counts = in.counts(root.Get("counts"))
	for i, f := range in.array(root, "findings") {
		in.at("findings", i)
		run.Findings = append(run.Findings, in.finding(f))
	}
	if in.err != nil {
		return nil, in.err
	}
	return run, nil
}

// depth is how deep brackets nest. gjson descends by recursion, so this is
// asked first.
func depth(data []byte) int {
	deepest, now, quoted := 0, 0, false
	for i := 0; i < len(data); i++ {
		switch c := data[i]; {
		case quoted && c == '\\':
			i++
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '{' || c == '[':
			now++
			deepest = max(deepest, now)
		case c == '}' || c == ']':
			now--
		}
	}
	return deepest
}

// reader keeps the first error and the place it was found at.
type reader struct {
	place string
	err   error
}

func (in *reader) at(list string, i int) { in.place = fmt.Sprintf("%s[%d].", list, i) }

func (in *reader) fail(key, want string, got gjson.Result) {
	if in.err != nil {
		return
	}
	raw := "nothing"
	if got.Exists() {
		raw = finding.Short(finding.Plain(got.Raw), 40)
	}
	in.err = fmt.Errorf("findings file: %s%s: %s wanted, %s found", in.place, key, want, raw)
}

func (in *reader) array(v gjson.Result, key string) []gjson.Result {
	a := v.Get(key)
	if !a.IsArray() {
		in.fail(key, "a list", a)
		return nil
	}
	return a.Array()
}

func (in *reader) text(v gjson.Result, key string) string {
	s := v.Get(key)
	if s.Type != gjson.String {
		in.fail(key, "a text", s)
	}
	return s.String()
}

func (in *reader) optional(v gjson.Result, key string) string {
	if !v.Get(key).Exists() {
		return ""
	}
	return in.text(v, key)
}

func (in *reader) integer(v gjson.Result, key string) int {
	n := v.Get(key)
	if n.Type != gjson.Number || n.Num != math.Trunc(n.Num) || math.Abs(n.Num) > 1<<53 {
		in.fail(key, "a whole number", n)
		return 0
	}
	return int(n.Num)
}

func (in *reader) count(v gjson.Result, key string) int {
	if !v.Get(key).Exists() {
		return 0
	}
	return in.integer(v, key)
}

// number takes null for what could not be written as a number.
func (in *reader) number(v gjson.Result, key string) float64 {
	switch n := v.Get(key); n.Type {
	case gjson.Number:
		return n.Num
	case gjson.Null:
		if !n.Exists() {
			in.fail(key, "a number", n)
		}
	default:
		in.fail(key, "a number", n)
	}
	return math.NaN()
}

// mapPlace is nil when there is none.
func (in *reader) mapPlace(v gjson.Result) *finding.MapPlace {
	if !v.Exists() {
		return nil
	}
	return &finding.MapPlace{
		CRS: in.optional(v, "crs"), Eastings: in.number(v, "eastings_m"), Northings: in.number(v, "northings_m"),
		Height: in.number(v, "height_m"), Turn: in.number(v, "x_axis_degrees"), Scale: in.number(v, "scale"),
	}
}

func (in *reader) optionalNumber(v gjson.Result, key string) *float64 {
	if !v.Get(key).Exists() {
		return nil
	}
	x := in.number(v, key)
	return &x
}

func (in *reader) vec(v gjson.Result, key string) geom.Vec {
	p := v.Get(key)
	if !p.IsArray() || len(p.Array()) != 3 {
		in.fail(key, "a place of three numbers", p)
		return geom.Vec{}
	}
	return geom.V(in.number(p, "0"), in.number(p, "1"), in.number(p, "2"))
}

func (in *reader) counts(v gjson.Result) finding.Counts {
	in.place = "counts."
	c := finding.Counts{
		Hosts: in.count(v, "hosts"), Items: in.count(v, "items"), Sets: in.count(v, "sets"),
		Anchors: in.count(v, "anchors"), Bars: in.count(v, "bars"), Unchecked: in.count(v, "unchecked"),
		Hold: in.count(v, "hold"), Review: in.count(v, "review"), Note: in.count(v, "note"),
	}
	v.Get("kinds").ForEach(func(k, n gjson.Result) bool {
		if c.Kinds == nil {
			c.Kinds = map[string]int{}
		}
		if n.Type != gjson.Number || n.Num != math.Trunc(n.Num) {
			in.fail("kinds."+k.String(), "a whole number", n)
		}
		c.Kinds[k.String()] = int(n.Num)
		return true
	})
	in.place = ""
	return c
}

func (in *reader) finding(v gjson.Result) finding.Finding {
	f := finding.Finding{
		ID: in.text(v, "id"), Rule: in.text(v, "rule"), Status: in.text(v, "status"),
		Host: in.ref(v.Get("host")), Set: in.text(v, "set"),
		Title: in.text(v, "title"), Message: in.text(v, "message"), Source: in.text(v, "source"),
	}
	p, ok := finding.ParsePriority(in.text(v, "priority"))
	if !ok {
		in.fail("priority", "hold, review or note", v.Get("priority"))
	}
	f.Priority = p
	f.Life = in.life(v)
	where := in.place
	for i, x := range in.array(v, "instances") {
		in.at(where+"instances", i)
		f.Instances = append(f.Instances, in.instance(x))
	}
	in.place = where
	return f
}

func (in *reader) ref(v gjson.Result) finding.Ref {
	if v.Type == gjson.Null {
		return finding.Ref{}
	}
	return finding.Ref{
		GlobalID: in.optional(v, "global_id"), Class: in.optional(v, "class"), Name: in.optional(v, "name"),
		Mark: in.optional(v, "mark"), Model: in.optional(v, "model"),
	}
}

func (in *reader) instance(v gjson.Result) finding.Instance {
	item := v.Get("item")
	out := finding.Instance{
		Item: in.ref(item), Kind: in.optional(item, "kind"), Anchor: in.integer(v, "anchor"),
		At: in.vec(v, "at"), Text: in.optional(v, "text"),
	}
	if v.Get("normal").Exists() {
		out.Normal = in.vec(v, "normal")
	}
	out.Relation = in.relation(v)
	if out.Relation != finding.None {
		out.Measured, out.Required = in.number(v, "measured"), in.number(v, "required")
		out.Unit, out.Governs = in.optional(v, "unit"), in.optional(v, "governs")
	}
	for _, o := range in.array(v, "others") {
		out.Others = append(out.Others, in.ref(o))
	}
	return out
}

func (in *reader) relation(v gjson.Result) finding.Relation {
	switch r := finding.Relation(in.optional(v, "relation")); r {
	case finding.AtLeast, finding.AtMost, finding.Equal, finding.None:
		return r
	}
	in.fail("relation", ">=, <= or =", v.Get("relation"))
	return finding.None
}
