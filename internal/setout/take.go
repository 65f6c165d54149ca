package setout

import (
	"fmt"
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// taker takes the dimensions of one set.
type taker struct {
	u    *Unit
	s    *Set
	tol  Tolerances
	used map[string]bool
}

func newTaker(u *Unit, s *Set, tol Tolerances) *taker {
	return &taker{u: u, s: s, tol: tol, used: map[string]bool{}}
}

func (t *taker) take() {
	shop := len(t.s.Plates) > 0 // studs are where the plate has them
	for i := range t.s.Plates {
		t.plate(i)
	}
	for i := range t.s.Anchors {
		t.place(&t.s.Anchors[i], !shop)
	}
	t.pattern(!shop)
	for i := range t.s.Anchors {
		t.depths(&t.s.Anchors[i], !shop)
	}
	for i := range t.s.Bodies {
		t.block(i)
	}
	t.template()
}

// add completes a dimension and keeps it.
func (t *taker) add(d Dim) {
	d.Unit, d.Set = t.u.Mark, t.s.Mark
	for n := 2; t.used[d.What]; n++ {
		d.What = fmt.Sprintf("%s (%d)", d.What, n)
	}
	t.used[d.What] = true
	d.Key = d.Unit + "/" + d.Set + "/" + d.What
	if !finite(d.MM) || !d.From.Finite() || !d.To.Finite() {
		return
	}
	if d.Dir == (geom.Vec{}) {
		d.Dir = d.To.Sub(d.From).Unit()
	}
	t.s.Dims = append(t.s.Dims, d)
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// placeDim is the dimension from a side of the form to a place.
func (t *taker) placeDim(p geom.Vec, a Axis) (from geom.Vec, mm float64) {
	from = p
	switch a {
	case X:
		from.X = 0
		return from, p.X
	case Y:
		from.Y = 0
		return from, p.Y
	}
	from.Z = t.u.formAt(p, t.s.Face)
	return from, p.Z - from.Z
}

// axesAt are the directions in which a place on the set's face is taped: also
// that of the face itself where it lies within the form, as the side of a corbel
// or a step.
func (t *taker) axesAt(p geom.Vec) []Axis {
	both := t.s.Face.Axes()
	out := both[:]
	gap := map[Face]float64{Up: p.Z, Down: p.Z + t.u.Size.Z, Left: p.X, Right: p.X - t.u.Size.X, Lower: p.Y, Upper: p.Y - t.u.Size.Y}[t.s.Face]
	const play = 3
	if math.Abs(gap) <= play {
		return out
	}
	switch t.s.Face {
	case Left, Right:
		return append(out, X)
	case Lower, Upper:
		return append(out, Y)
	}
	return append(out, Z)
}

// place dimensions an anchor from the sides of the form, running from the datum.
func (t *taker) place(a *Anchor, taped bool) {
	for _, ax := range t.axesAt(a.At) {
		from, mm := t.placeDim(a.At, ax)
		kind := Position
		if ax == Z {
			kind = Level
		}
		t.add(Dim{
			What: ax.String() + " " + itoa(a.Number), Text: a.Mark + " " + ax.From(), Quantity: Place, Axis: ax, MM: mm,
			Tol: t.tol.of(kind, a.Item.Kind), Taped: taped, From: from, To: a.At, Dir: ax.Dir(),
			Items: []*model.Item{a.Item}, Anchors: []int{a.Number},
		})
	}
}

// depths dimensions an anchor along its axis.
func (t *taker) depths(a *Anchor, taped bool) {
	base := Dim{Dir: t.u.turn(a.Dir), Items: []*model.Item{a.Item}, Anchors: []int{a.Number}}
	at := func(along float64) geom.Vec { return t.u.Frame.Local(a.Anchor.At(along)) }
	add := func(q Quantity, mm float64, from, to geom.Vec, tol ToleranceKind, taped bool, text string) {
		d := base
		d.What, d.Quantity, d.MM, d.From, d.To, d.Taped = string(q)+" "+itoa(a.Number), q, mm, from, to, taped
		d.Text = a.Mark + " " + text
		if tol != "" {
			d.Tol = t.tol.of(tol, a.Item.Kind)
		}
		t.add(d)
	}
	if a.Entry != nil {
		const play = 0.05
		if a.Entry.Dist > play {
			add(Projection, a.Entry.Dist, a.At, at(0), Level, taped, "from the face out to the thread's end")
		} else if a.Entry.Dist < -play {
			add(Sunk, -a.Entry.Dist, a.At, at(0), Level, taped, "from the face down to the open end")
		}
		add(Embedment, a.Embedment(), a.At, at(a.Bearing), Depth, taped, "from the face to "+bearingOf(a.Anchor))
		far := t.u.Frame.Local(a.Entry.Point.Add(a.Dir.Mul(a.Entry.Thickness)))
		if !t.s.Face.Side() {
			add(BackCover, a.BackCover(), at(a.Deepest), far, Cover, taped, "concrete behind its deepest point")
		}
	}
	add(Length, a.Deepest, at(0), at(a.Deepest), "", false, "from the open end to its deepest point")
}

// bearingOf is what the embedment is taken to.
func bearingOf(a *model.Anchor) string {
	switch a.End {
	case model.Hooked:
		return "the top of the hook"
	case model.Headed:
		return "the head or nut"
	}
	return "its end"
}

// plate dimensions a plate by its sides; one that is turned by its corners.
func (t *taker) plate(i int) {
	p := &t.s.Plates[i]
	name := func(what string) string {
		if len(t.s.Plates) > 1 {
			return what + " " + p.Mark
		}
		return what
	}
	items := []*model.Item{p.Item}
	place := func(what, text string, c geom.Vec, ax Axis) {
		from, mm := t.placeDim(c, ax)
		kind := Position
		if ax == Z {
			kind = Level
		}
		t.add(Dim{What: name(what), Text: text, Quantity: Place, Axis: ax, MM: mm, Tol: t.tol.of(kind, p.Kind), Taped: true, From: from, To: c, Dir: ax.Dir(), Items: items})
	}
	axes := t.axesAt(p.Corners[0])
	if p.Square {
		low := geom.BoxOf(p.Corners...).Min
		for _, ax := range axes {
			place("plate "+ax.String(), p.Mark+" near side "+ax.From(), low, ax)
		}
	} else {
		for k, c := range p.Corners[:min(len(p.Corners), 4)] {
			for _, ax := range axes {
				place(fmt.Sprintf("plate corner %d %s", k+1, ax), fmt.Sprintf("%s corner %d %s", p.Mark, k+1, ax.From()), c, ax)
			}
		}
	}
	sides := [2]string{"plate width", "plate height"}
	for k := range sides {
		from, to := p.Corners[k], p.Corners[(k+1)%len(p.Corners)]
		if p.Square && k == 0 != (math.Abs(t.s.Face.flat(to.Sub(from)).X) > math.Abs(t.s.Face.flat(to.Sub(from)).Y)) {
			from, to = p.Corners[1-k], p.Corners[2-k]
		}
		t.add(Dim{What: name(sides[k]), Text: p.Mark + " " + sides[k], Quantity: Extent, MM: to.Dist(from), From: from, To: to, Items: items})
	}
	if p.Thick > 0 {
		c := p.Corners[0]
		t.add(Dim{What: name("plate thickness"), Text: p.Mark + " plate thickness", Quantity: Extent, MM: p.Thick, From: c, To: c.Sub(t.s.Face.Normal().Mul(p.Thick)), Items: items})
	}
	if p.PlateIn != nil {
		n := p.PlateIn.Normal
		flush := p.Outline[0].Sub(p.PlateIn.Point).Dot(n)
		at := t.u.Frame.Local(p.Outline[0])
		t.add(Dim{
			What: name("plate flush"), Text: p.Mark + " outer face above the concrete's (0: flush; negative: set back)", Quantity: Flush, MM: roundNoise(flush),
			Tol: t.tol.of(Level, p.Kind), Taped: true, From: at.Sub(t.u.turn(n).Mul(flush)), To: at, Dir: t.u.turn(n), Items: items,
		})
	}
}

// roundNoise takes away what is below a thousandth of a mm.
func roundNoise(v float64) float64 {
	if math.Abs(v) < 1e-3 {
		return 0
	}
	return v
}

// block dimensions an item by the box around it: its middle on the face, its
// size, and how deep it lies.
func (t *taker) block(i int) {
	b := &t.s.Bodies[i]
	name := func(what string) string {
		if len(t.s.Bodies) > 1 || len(t.s.Anchors) > 0 || len(t.s.Plates) > 0 {
			return what + " " + b.Mark
		}
		return what
	}
	items := []*model.Item{b.Item}
	mid := b.Min.Add(b.Max).Mul(0.5)
	onFace := mid
	n := t.s.Face.Normal()
	out := mid.Add(geom.V(n.X*(b.Max.X-b.Min.X), n.Y*(b.Max.Y-b.Min.Y), n.Z*(b.Max.Z-b.Min.Z)).Mul(0.5))
	for _, ax := range t.s.Face.Axes() {
		from, mm := t.placeDim(onFace, ax)
		kind := Position
		if ax == Z {
			kind = Level
		}
		t.add(Dim{What: name("middle " + ax.String()), Text: b.Mark + " middle " + ax.From(), Quantity: Place, Axis: ax, MM: mm, Tol: t.tol.of(kind, b.Kind), Taped: true, From: from, To: onFace, Dir: ax.Dir(), Items: items})
	}
	side := t.sideAt(mid)
	over := out.Sub(side).Dot(n)
	t.add(Dim{
		What: name("flush"), Text: b.Mark + " outer end above the face (0: flush; negative: set back)", Quantity: Flush, MM: roundNoise(over),
		Tol: t.tol.of(Level, b.Kind), Taped: true, From: out.Sub(n.Mul(over)), To: out, Dir: n, Items: items,
	})
	for k, ax := range [3]Axis{X, Y, Z} {
		from, to := mid, mid
		switch ax {
		case X:
			from.X, to.X = b.Min.X, b.Max.X
		case Y:
			from.Y, to.Y = b.Min.Y, b.Max.Y
		case Z:
			from.Z, to.Z = b.Min.Z, b.Max.Z
		}
		what := "size " + Axis(k).String()
		t.add(Dim{What: name(what), Text: b.Mark + " size along " + Axis(k).String(), Quantity: Extent, MM: to.Dist(from), From: from, To: to, Items: items})
	}
}

// sideAt is the place on the set's face of the form beside a point.
func (t *taker) sideAt(p geom.Vec) geom.Vec {
	switch t.s.Face {
	case Up:
		_, p.Z = t.u.concreteAt(p, Up)
	case Down:
		p.Z = t.u.formAt(p, Down)
	case Left:
		p.X = 0
	case Right:
		p.X = t.u.Size.X
	case Lower:
		p.Y = 0
	case Upper:
		p.Y = t.u.Size.Y
	}
	return p
}

// template dimensions the template's plate and its stand-off from the face.
func (t *taker) template() {
	it := t.s.Template
	if it == nil || len(t.s.Anchors) == 0 {
		return
	}
	b := t.u.localBox(it)
	if b.Empty() {
		return
	}
	items := []*model.Item{it}
	a := t.s.Anchors[0]
	if a.Entry != nil {
		n := t.u.turn(a.Entry.Normal)
		gap := math.Inf(1)
		for _, c := range t.corners(it) {
			gap = min(gap, c.Sub(a.At).Dot(n))
		}
		t.add(Dim{
			What: "stand-off", Text: "underside of the template above the face", Quantity: StandOff, MM: gap, Tol: t.tol.of(Level, a.Item.Kind), Taped: true,
			From: a.At, To: a.At.Add(n.Mul(gap)), Dir: n, Items: items,
		})
	}
	size := b.Size()
	mid := b.Center()
	for k, mm := range [3]float64{size.X, size.Y, size.Z} {
		t.add(Dim{What: "template " + Axis(k).String(), Text: "template size along " + Axis(k).String(), Quantity: Extent, MM: mm, From: mid, To: mid, Dir: Axis(k).Dir(), Items: items})
	}
}

// corners are the points of an item's bodies in the cast frame.
func (t *taker) corners(it *model.Item) []geom.Vec {
	var out []geom.Vec
	for i := range it.Bodies {
		if m := it.Bodies[i].Mesh; m != nil {
			for _, p := range m.Verts {
				out = append(out, t.u.Frame.Local(p))
			}
		}
	}
	if len(out) == 0 {
		b := t.u.localBox(it)
		c := b.Corners()
		out = c[:]
	}
	return out
}
