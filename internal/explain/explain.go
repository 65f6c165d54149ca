// Package explain tells, step by step, how the figure of a finding came about:
// what the item and its host were taken for, where the axis runs and enters the
// concrete, from where to where was measured, and what each entry of the limit
// comes to. All of it is worked out again from the model, so that a person can
// follow it in a viewer with the coordinates at hand.
package explain

import (
	"fmt"
	"io"
	"math"
	"strings"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// Writer explains findings of one run.
type Writer struct {
	m     *model.Model
	set   *rules.Set
	index *subject.Index
}

// New gets ready to explain what a check with a rule set found in a model.
func New(m *model.Model, set *rules.Set) *Writer {
	return &Writer{m, set, subject.NewIndex(m)}
}

// Write explains one finding.
func (k *Writer) Write(out io.Writer, f *finding.Finding) error {
	p := &page{k: k, f: f}
	p.line("%s", finding.Plain(f.Title))
	p.line("finding %s, rule %s, priority %s, status %s", f.ID, f.Rule, f.Priority, f.Status)
	if s, err := k.index.Of(f); err == nil {
		p.subject(s)
	} else {
		p.step("Place", "nothing in the model shows it: the finding is about a file, or about what could not be read")
	}
	p.rule()
	p.places()
	p.line("")
	p.line("%s", finding.Caution)
	_, err := io.WriteString(out, p.text.String())
	return err
}

type page struct {
	k    *Writer
	f    *finding.Finding
	text strings.Builder
	n    int
}

func (p *page) line(format string, args ...any) {
	p.text.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " ") + "\n")
}

// step is a numbered paragraph, its lines under one another.
func (p *page) step(title string, lines ...string) {
	p.n++
	p.line("")
	p.line("%d. %s", p.n, title)
	for _, l := range lines {
		if l != "" {
			p.line("   %s", l)
		}
	}
}

func (p *page) subject(s *subject.Subject) {
	p.step("Item: "+p.name(&s.Item.Ref), strings.TrimSpace(s.Item.Kind.String()+" "+finding.Plain(s.Item.Size)), because(s.Item.Evidence))
	if s.Host != nil {
		p.step("Host: "+p.name(&s.Host.Ref), because(s.Host.Evidence))
	}
	if s.Anchor != nil && !s.OfItem {
		p.anchor(s.Anchor)
	}
	p.measured(s)
	p.limit(s)
}

// name is an element with where it stands in its file.
func (p *page) name(r *model.Ref) string {
	t := finding.Plain(subject.Label(r)) + ", " + r.Class
	if r.Source < len(p.k.m.Sources) {
		t += fmt.Sprintf(" #%d in %s", r.Instance, finding.Plain(p.k.m.Sources[r.Source].Name))
	}
	return t
}

func because(evidence []string) string {
	if len(evidence) == 0 {
		return ""
	}
	return "taken for that by: " + finding.Plain(strings.Join(evidence, "; "))
}

// anchor is the axis and where it enters.
func (p *page) anchor(a *model.Anchor) {
	end := "plain, held to its end"
	switch a.End {
	case model.Hooked:
		end = "hooked, held by the top of its hook"
	case model.Headed:
		end = "headed, held by the inner side of its head"
	}
	p.step(fmt.Sprintf("Axis of anchor %d", a.Index+1),
		"open end at "+p.at(a.Open)+", running along "+direction(a.Dir),
		fmt.Sprintf("diameter %s mm, %s", mm(a.Diameter), end),
		fmt.Sprintf("from the open end: %s mm to the bearing side, %s mm to the deepest point", mm(a.Bearing), mm(a.Deepest)))
	e := a.Entry
	if e == nil {
		p.step("Entry face", "none was found: the axis passes through no face of a host on its open side")
		return
	}
	p.step("Entry face",
		"the axis enters at "+p.at(e.Point)+", "+fromOpen(e.Dist),
		"the face looks along "+direction(e.Normal),
		fmt.Sprintf("concrete along the axis from there: %s mm", mm(e.Thickness)),
		fmt.Sprintf("embedment depth: %s to the bearing side, %s of them outside: %s mm", mm(a.Bearing), mm(e.Dist), mm(a.Embedment())),
		fmt.Sprintf("back cover: %s of concrete, %s of them taken by the anchor: %s mm", mm(e.Thickness), mm(a.Deepest-e.Dist), mm(a.BackCover())))
}

func fromOpen(d float64) string {
	if d < 0 {
		return mm(-d) + " mm outside the open end, which is sunk"
	}
	return mm(d) + " mm from the open end"
}

// measured is the worst place of the finding.
func (p *page) measured(s *subject.Subject) {
	in := s.Instance
	r := rules.Find(p.f.Rule)
	if r == nil || in.Relation == finding.None {
		return
	}
	lines := []string{r.Doc.Measured}
	if from, to, ok := s.Measured(); ok {
		lines = append(lines, "from "+p.at(from), "to   "+p.at(to), fmt.Sprintf("distance of these two points: %s mm", mm(from.Dist(to))))
		if s.Aim.Bar != nil && s.Aim.Bar.Rod != nil {
			lines = append(lines, fmt.Sprintf("to a bar of %s mm diameter, surface to surface", mm(2*s.Aim.Bar.Rod.Radius)))
		}
	}
	lines = append(lines, "measured: "+value(in.Measured, in.Unit))
	p.step("Measured: "+r.Measured, lines...)
}

// limit is each entry of the limit, and what the two come to.
func (p *page) limit(s *subject.Subject) {
	in := s.Instance
	r := rules.Find(p.f.Rule)
	if r == nil || in.Relation == finding.None {
		return
	}
	var b rules.Basis
	if s.Anchor != nil {
		b = rules.BasisOf(s.Anchor)
	}
	if s.Aim.Bar != nil && s.Aim.Bar.Rod != nil {
		b.BarDiameter = 2 * s.Aim.Bar.Rod.Radius
	}
	var lines []string
	for _, w := range p.k.set.Work(r, s.Item, b, in) {
		lines = append(lines, entry(w, in.Unit))
	}
	which := "the largest governs"
	if in.Relation == finding.AtMost {
		which = "the smallest governs"
	}
	if len(lines) > 1 {
		lines = append(lines, which)
	}
	p.step("Limit, rule set "+finding.Plain(p.k.set.Name), append(lines, "source: "+finding.Plain(p.f.Source))...)
	p.step("Compared", finding.Plain(in.Figures()), "off the limit by "+value(math.Abs(in.Measured-in.Required), in.Unit))
}

func entry(w rules.Worked, unit string) string {
	t := w.Entry
	switch {
	case w.Counts && w.Of > 0:
		t += fmt.Sprintf(" of %s mm", mm(w.Of))
	case w.Counts:
		t += ", of a size that is not known here"
	}
	if v := value(w.Value, unit); w.Known && (w.Counts || !plain(w.Entry)) {
		t += " = " + v
	}
	if w.Governs {
		t += "   <- governs"
	}
	if w.Source != "" {
		t += "   [" + finding.Plain(w.Source) + "]"
	}
	return t
}

// plain reports whether an entry is a figure in the rule's own unit.
func plain(entry string) bool {
	return strings.HasSuffix(entry, " mm") || strings.HasSuffix(entry, "°") || strings.Trim(entry, "0123456789.") == ""
}

// rule says what else there is to know.
func (p *page) rule() {
	if r := rules.Find(p.f.Rule); r != nil {
		p.step("What to do", r.Doc.Do, "Not seen: "+r.Doc.Blind)
	}
}

// places are all places of the finding, the worst one included.
func (p *page) places() {
	const most = 40
	var lines []string
	for i := range p.f.Instances {
		if i == most {
			lines = append(lines, fmt.Sprintf("and %d more, see findings.json", len(p.f.Instances)-i))
			break
		}
		in := &p.f.Instances[i]
		t := finding.Plain(in.Text)
		if t == "" {
			t = strings.TrimSpace(in.Item.Label() + " " + finding.Plain(in.Figures()))
		}
		lines = append(lines, t)
	}
	p.step(fmt.Sprintf("All places: %d", len(p.f.Instances)), lines...)
}

// at is a local point in metres in the model's own world coordinates.
func (p *page) at(q geom.Vec) string {
	w := p.k.m.World(q)
	return fmt.Sprintf("%.4f, %.4f, %.4f m", w.X+0, w.Y+0, w.Z+0)
}

func direction(d geom.Vec) string {
	return fmt.Sprintf("%.3f, %.3f, %.3f", round3(d.X), round3(d.Y), round3(d.Z))
}

func round3(x float64) float64 { return math.Round(x*1e3)/1e3 + 0 }

func mm(v float64) string { return fmt.Sprintf("%.1f", math.Round(v*10)/10+0) }

func value(v float64, unit string) string {
	switch unit {
	case "ratio":
		return fmt.Sprintf("%.3f", v)
	case "degrees":
		return fmt.Sprintf("%.1f degrees", v)
	case "count":
		return fmt.Sprintf("%.0f", v)
	}
	return mm(v) + " mm"
}
