package drawing

import (
	"strings"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// strip is the foot of the sheet: where the place is in its host, what was found,
// what it belongs to, and the caution.
type strip struct{ key, what, belongs, foot rect }

func titleStrip(area rect) strip {
	all := rect{geom.Vec2{X: area.min.X, Y: area.max.Y}, geom.Vec2{X: area.max.X, Y: area.max.Y + stripH}}
	const keyW, refW, footH = 62.0, 78.0, 5.5
	x1, x2 := all.min.X+keyW, all.max.X-refW
	y := all.max.Y - footH
	return strip{
		key:     rect{all.min, geom.Vec2{X: x1, Y: y}},
		what:    rect{geom.Vec2{X: x1, Y: all.min.Y}, geom.Vec2{X: x2, Y: y}},
		belongs: rect{geom.Vec2{X: x2, Y: all.min.Y}, geom.Vec2{X: all.max.X, Y: y}},
		foot:    rect{geom.Vec2{X: all.min.X, Y: y}, all.max},
	}
}

func keyPlan(p *plan, r rect) []Mark {
	sh := &sheet{}
	p.key(sh, r)
	return sh.all()
}

func titles(s *subject.Subject, st strip) []Mark {
	sh := &sheet{}
	pen := Pen{Width: Thin}
	lines := []Mark{
		Line{geom.Vec2{X: st.what.min.X, Y: st.what.min.Y}, geom.Vec2{X: st.what.min.X, Y: st.what.max.Y}, pen},
		Line{st.belongs.min, geom.Vec2{X: st.belongs.min.X, Y: st.belongs.max.Y}, pen},
		Line{st.foot.min, geom.Vec2{X: st.foot.max.X, Y: st.foot.min.Y}, pen},
	}
	what(sh, s, st.what)
	belongs(sh, s, st.belongs)
	sh.fixed(Text{At: geom.Vec2{X: st.foot.min.X + 3, Y: st.foot.max.Y - 1.7}, Text: fit(finding.Caution, dimText, false, st.foot.w()-6), Size: dimText})
	return append(lines, sh.all()...)
}

// what says what was found.
func what(sh *sheet, s *subject.Subject, r rect) {
	f := s.Finding
	at := r.min.Add(geom.Vec2{X: 3, Y: 6.2})
	w := r.w() - 6
	for _, l := range wrap(f.Title, failText, true, w, 2) {
		sh.fixed(Text{At: at, Text: l, Size: failText, Bold: true})
		at.Y += 5.2
	}
	at.Y += 0.3
	room := int((r.max.Y - at.Y - 1) / 4)
	msg := wrap(f.Message, dimText, false, w, max(room-1, 1))
	for _, l := range msg {
		sh.fixed(Text{At: at, Text: l, Size: dimText})
		at.Y += 4
	}
	if f.Source != "" && len(msg) < room {
		for _, l := range wrap("Limit: "+f.Source, dimText, false, w, room-len(msg)) {
			sh.fixed(Text{At: at, Text: l, Size: dimText})
			at.Y += 4
		}
	}
}

// belongs says what the finding belongs to.
func belongs(sh *sheet, s *subject.Subject, r rect) {
	f := s.Finding
	host := "none"
	if f.Host != (finding.Ref{}) {
		host = f.Host.Label()
		if f.Host.Class != "" && f.Host.Class != host {
			host += " (" + f.Host.Class + ")"
		}
	}
	model := s.Instance.Item.Model
	if f.Host.Model != "" && f.Host.Model != model {
		model += ", host in " + f.Host.Model
	}
	rows := [][2]string{
		{"Host", host},
		{"Set", f.Set},
		{"Item", s.Instance.Item.Label()},
		{"Rule", f.Rule + ", " + f.Priority.String()},
		{"Finding", f.ID},
		{"Model", model},
	}
	y := r.min.Y + 5.4
	for _, row := range rows {
		sh.fixed(Text{At: geom.Vec2{X: r.min.X + 3, Y: y}, Text: row[0], Size: dimText})
		sh.fixed(Text{At: geom.Vec2{X: r.min.X + 18, Y: y}, Text: fit(row[1], dimText, false, r.w()-20), Size: dimText})
		y += 5
	}
}

// key draws the whole face small, with the place on it, and how far that is from
// the left and the lower end.
func (p *plan) key(sh *sheet, r rect) {
	if p.whole.empty() || p.whole.w() <= 0 || p.whole.h() <= 0 {
		return
	}
	room := rect{r.min.Add(geom.Vec2{X: 4, Y: 4}), r.max.Sub(geom.Vec2{X: 4, Y: 10})}
	scale := max(p.whole.w()/room.w(), p.whole.h()/room.h())
	v := viewOn(sh, p.frame, p.whole, scale, room)
	v.clip = room.grow(1)
	for _, l := range p.face.on(v) {
		v.loop(l, Pen{Width: Fine})
	}
	if !p.wholly {
		a, b := v.paper(p.crop.min), v.paper(p.crop.max)
		q := rectOf(a, b).cut(room.grow(0.8))
		v.loop(q.corners(), Pen{Width: Thin, Dash: Dashed})
	}
	o := geom.Vec2{}
	c := v.paper(o)
	if !room.grow(1).has(c) {
		return // beyond the concrete
	}
	v.line(c.Sub(geom.Vec2{X: 2}), c.Add(geom.Vec2{X: 2}), Pen{Width: Mid})
	v.line(c.Sub(geom.Vec2{Y: 2}), c.Add(geom.Vec2{Y: 2}), Pen{Width: Mid})
	rows := [2]string{
		figure(o.X-p.whole.min.X) + " of " + figure(p.whole.w()) + " from left",
		figure(o.Y-p.whole.min.Y) + " of " + figure(p.whole.h()) + " from below",
	}
	for i, t := range rows {
		sh.fixed(Text{At: geom.Vec2{X: r.min.X + 3, Y: r.max.Y - 5.4 + 3.8*float64(i)}, Text: fit(t, dimText, false, r.w()-6), Size: dimText})
	}
}

// fit cuts a text to a width on paper.
func fit(s string, size float64, bold bool, w float64) string {
	s = finding.Plain(s)
	if textWidth(s, size, bold) <= w {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && textWidth(string(r)+"...", size, bold) > w {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ") + "..."
}

// wrap breaks a text into at most n lines of a width on paper.
func wrap(s string, size float64, bold bool, w float64, n int) []string {
	var out []string
	line := ""
	words := strings.Fields(finding.Plain(s))
	for i, word := range words {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if textWidth(next, size, bold) <= w || line == "" {
			line = next
			continue
		}
		if len(out) == n-1 {
			return append(out, fit(line+" "+strings.Join(words[i:], " "), size, bold, w))
		}
		out, line = append(out, fit(line, size, bold, w)), word
	}
	if line != "" && len(out) < n {
		out = append(out, fit(line, size, bold, w))
	}
	return out
}
