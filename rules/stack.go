package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// stackDetails are what a rule file may state of what bolts carry.
var stackDetails = Details{
	Key: "stack",
	Doc: "What a bolt carries over the concrete. A base plate that is found over the bolts goes before grout and plate.",
	List: []Detail{
		{"grout", "Height of the grout or bedding under the plate.", lengthUnits},
		{"plate", "Thickness of the plate.", lengthUnits},
		{"washers", "Number of washers under the nut; 1 when nothing is stated.", nil},
		{"washer", "Thickness of one washer; that of ISO 7089, or of the plate washer of an inch rod, when nothing is stated.", lengthUnits},
		{"nuts", "Number of nuts over the plate; 1 when nothing is stated.", nil},
		{"nut", "Height of one nut; that of ISO 4032, or of the heavy nut of an inch rod, when nothing is stated.", lengthUnits},
		{"levelling_nuts", "Number of nuts under the plate, which the thread has to reach below; 0 when nothing is stated.", nil},
		{"spare", "Thread beyond the nut; one pitch when nothing is stated.", []Unit{MM, Inch, Diameters, Pitches}},
	},
}

var lengthUnits = []Unit{MM, Inch, Diameters}

// spareSource is where the one pitch of thread beyond the nut comes from.
const spareSource = "one full thread beyond the nut, EN 1090-2 8.2.2 (from memory, clause not re-read)"

// stack is what a bolt carries over the concrete, from the face outwards, mm.
type stack struct {
	base               *model.Sheet // nil when the rule file alone tells
	gap, plate         float64
	washers, nuts      float64
	levelling, spare   float64
	washerNo, nutNo    int
	cite               string
	gapSays, plateSays string
}

// total is the height from the face of the concrete to the end of the thread.
func (s *stack) total() float64 { return s.gap + s.plate + s.washers + s.nuts + s.spare }

// String lists what there is.
func (s *stack) String() string {
	var out []string
	add := func(mm float64, what string) {
		if mm > 0 {
			out = append(out, figure(mm)+" mm of "+what)
		}
	}
	add(s.gap, s.gapSays)
	add(s.plate, s.plateSays)
	add(s.washers, plural(s.washerNo, "washer"))
	add(s.nuts, plural(s.nutNo, "nut"))
	add(s.spare, "spare thread")
	return strings.Join(out, " + ")
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// stackOf is what an anchor carries, by a base plate over it or by what the rule
// file states of projection;
// nil when neither tells, or when the height of its nut is unknown.
func (p *Pass) stackOf(a *model.Anchor, params *Params) *stack {
	base := p.baseOver(a)
	if base == nil && len(params.Details) == 0 {
		return nil
	}
	s := &stack{base: base, gapSays: "grout", plateSays: "plate"}
	b := BasisOf(a)
	var missing []string
	length := func(name string, otherwise float64) float64 {
		r, ok := params.Details[name].Resolve(finding.AtLeast, b)
		if ok {
			return r.Value
		}
		if otherwise < 0 {
			missing = append(missing, name)
		}
		return max(otherwise, 0)
	}
	number := func(name string, otherwise int) int {
		if n, ok := params.Details.count(name); ok {
			return n
		}
		return otherwise
	}
	t, known := threadOf(a.Diameter)
	if !known {
		t = thread{washer: -1, nut: -1, pitch: -1}
	}
	s.gap, s.plate = length("grout", 0), length("plate", 0)
	s.washerNo, s.nutNo = number("washers", 1), number("nuts", 1)
	if s.washerNo > 0 {
		s.washers = float64(s.washerNo) * length("washer", t.washer)
	}
	if s.nutNo > 0 {
		s.nuts = float64(s.nutNo) * length("nut", t.nut)
	}
	if n := number("levelling_nuts", 0); n > 0 {
		s.levelling = float64(n) * (length("nut", t.nut) + length("washer", t.washer))
	}
	s.spare = length("spare", t.pitch)
	if len(missing) > 0 {
		slices.Sort(missing)
		p.Unchecked(a.Item, a, fmt.Sprintf("%s: no table has hardware for %s mm; state %s in the stack of the rule file",
			p.Rule.ID, figure(a.Diameter), strings.Join(slices.Compact(missing), ", ")))
		return nil
	}
	s.cite = s.sources(params, t)
	if base != nil {
		s.under(base, p.onTop(base, a), a)
	}
	return s
}

// placed reports whether it is known where over the concrete the lowest nut sits:
// not of nuts alone that a rule file states.
func (s *stack) placed(p *Params) bool {
	if s.levelling > 0 {
		return s.base != nil || p.Details["grout"] != nil
	}
	return s.base != nil || p.Details["grout"] != nil || p.Details["plate"] != nil
}

// under takes the heights of a base plate that is in the models, with what lies on
// it, and of the
// hardware on it where that is more than the tables have.
func (s *stack) under(base *model.Sheet, above []*model.Sheet, a *model.Anchor) {
	s.gap, s.plate = max(base.Gap(a), 0), base.Thick
	s.gapSays, s.plateSays = "gap", sheetName(base)
	upper, _ := base.Along(a)
	for _, o := range above { // shims under the plate, a plate washer over all bolts
		s.plate += o.Thick
		s.plateSays += " and " + sheetName(o)
		upper, _ = o.Along(a)
	}
	var nuts, washers float64
	var nutNo int
	for _, part := range a.Parts {
		if part.To > upper+1 {
			break
		}
		switch part.Kind {
		case model.Nut:
			nuts, nutNo = nuts+part.To-part.From, nutNo+1
		case model.Washer:
			washers += part.To - part.From
		}
	}
	if nuts > s.nuts {
		s.nuts, s.nutNo = nuts, nutNo
	}
	s.washers = max(s.washers, washers)
	s.cite = "gap and plate as modelled; " + s.cite
}

// sources says where the heights come from.
func (s *stack) sources(p *Params, t thread) string {
	var out []string
	if p.DetailsFrom != "" {
		out = append(out, p.DetailsFrom)
	}
	if p.Details["nut"] == nil || p.Details["washer"] == nil {
		out = append(out, t.source())
	}
	if p.Details["spare"] == nil {
		out = append(out, spareSource)
	}
	return strings.Join(out, "; ")
}

// baseOver is the base plate that an anchor stands through, the lowest of
// several; nil without one.
func (s *shared) baseOver(a *model.Anchor) *model.Sheet {
	var best *model.Sheet
	for _, b := range s.sheetsOn()[a] {
		if b.Template() || b.Gap(a) < -measure.FlushTol {
			continue // set into the concrete
		}
		if best == nil || b.Gap(a) < best.Gap(a) {
			best = b
		}
	}
	return best
}

// onTop are the plates that lie on one another on a base plate.
func (s *shared) onTop(base *model.Sheet, a *model.Anchor) []*model.Sheet {
	const touching = 1 // mm
	var out []*model.Sheet
	top := base.Gap(a) + base.Thick
	for next := base; next != nil; {
		next = nil
		for _, o := range s.sheetsOn()[a] {
			if o != base && !slices.Contains(out, o) && !o.Template() && math.Abs(o.Gap(a)-top) < touching {
				next = o
			}
		}
		if next != nil {
			out = append(out, next)
			top += next.Thick
		}
	}
	return out
}
