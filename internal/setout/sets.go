package setout

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// sets gathers the items of the host: those of a set on one face together.
func (u *Unit) sets() {
	type key struct {
		set  *model.Set
		item *model.Item
		face Face
	}
	bySet := map[key]*Set{}
	var order []*Set
	at := func(it *model.Item, f Face) *Set {
		k := key{set: it.Set, face: f}
		if it.Set == nil {
			k.item = it
		}
		s := bySet[k]
		if s == nil {
			s = &Set{Model: it.Set, Face: f}
			bySet[k] = s
			order = append(order, s)
		}
		if !slices.Contains(s.Items, it) {
			s.Items = append(s.Items, it)
		}
		return s
	}
	var rest []*model.Item
	for _, it := range u.Host.Items {
		if completes(it) {
			rest = append(rest, it)
			continue
		}
		u.put(it, at)
	}
	for _, it := range rest {
		if s := firstOf(order, it.Set); s != nil {
			s.Items = append(s.Items, it)
		} else {
			u.put(it, at)
		}
	}
	for _, s := range order {
		u.complete(s, order)
	}
	u.Sets = order
	u.name()
}

// completes reports whether an item goes with the others of its set.
func completes(it *model.Item) bool { return it.Set != nil && !carries(it) }

func firstOf(sets []*Set, m *model.Set) *Set {
	for _, s := range sets {
		if s.Model == m && m != nil {
			return s
		}
	}
	return nil
}

// put sorts one item into the sets by what it is set out by.
func (u *Unit) put(it *model.Item, at func(*model.Item, Face) *Set) {
	switch {
	case len(it.Outline) > 2:
		f := u.plateFace(it)
		s := at(it, f)
		p := Plate{Item: it, Mark: labelOf(&it.Ref), Square: true}
		for _, c := range it.Outline {
			p.Corners = append(p.Corners, u.Frame.Local(c))
		}
		for i, c := range p.Corners {
			d := f.flat(p.Corners[(i+1)%len(p.Corners)].Sub(c))
			const play = 0.5
			p.Square = p.Square && (math.Abs(d.X) < play || math.Abs(d.Y) < play)
		}
		s.Plates = append(s.Plates, p)
		for _, a := range it.Anchors {
			s.Anchors = append(s.Anchors, Anchor{Anchor: a, At: u.entry(a)})
		}
	case len(it.Anchors) > 0 && it.Kind != model.Channel:
		for _, a := range it.Anchors {
			s := at(it, u.anchorFace(a))
			s.Anchors = append(s.Anchors, Anchor{Anchor: a, At: u.entry(a)})
		}
	default:
		b := u.localBox(it)
		if !b.Empty() && b.Min.Finite() && b.Max.Finite() {
			s := at(it, u.blockFace(it, b))
			s.Bodies = append(s.Bodies, Block{Item: it, Mark: labelOf(&it.Ref), Min: b.Min, Max: b.Max})
		}
	}
}

// complete adds what the model's set holds besides: its template and fittings,
// to the first of its sets in this host.
func (u *Unit) complete(s *Set, order []*Set) {
	if s.Model == nil || firstOf(order, s.Model) != s {
		return
	}
	s.Template = s.Model.Template
	for _, it := range s.Model.Items {
		if !slices.Contains(s.Items, it) && (it.Host == nil || it.Host == u.Host) && !carries(it) {
			s.Items = append(s.Items, it)
		}
	}
}

// entry is where an anchor enters, in the cast frame; its open end where no
// entry face was found.
func (u *Unit) entry(a *model.Anchor) geom.Vec {
	if a.Entry != nil {
		return u.Frame.Local(a.Entry.Point)
	}
	return u.Frame.Local(a.Open)
}

func (u *Unit) turn(d geom.Vec) geom.Vec {
	return geom.V(d.Dot(u.Frame.X), d.Dot(u.Frame.Y), d.Dot(u.Frame.Z))
}

func (u *Unit) anchorFace(a *model.Anchor) Face {
	if a.Entry != nil {
		return faceOf(u.turn(a.Entry.Normal))
	}
	return faceOf(u.turn(a.Dir.Neg()))
}

// plateFace is the face that a plate lies in; without one, the side that its
// outer face looks to.
func (u *Unit) plateFace(it *model.Item) Face {
	if it.PlateIn != nil {
		return faceOf(u.turn(it.PlateIn.Normal))
	}
	if len(it.Anchors) > 0 {
		return u.anchorFace(it.Anchors[0])
	}
	n := it.Outline[1].Sub(it.Outline[0]).Cross(it.Outline[2].Sub(it.Outline[1]))
	return faceOf(u.turn(n))
}

// localBox is the box around an item's bodies in the cast frame.
func (u *Unit) localBox(it *model.Item) geom.Box {
	b := geom.EmptyBox
	for i := range it.Bodies {
		if r := it.Bodies[i].Rod; r != nil {
			b = b.Union(u.rodBox(r))
			continue
		}
		for _, p := range it.Bodies[i].Mesh.Verts {
			b = b.Add(u.Frame.Local(p))
		}
	}
	if b.Empty() && !it.Box.Empty() {
		for _, c := range it.Box.Corners() {
			b = b.Add(u.Frame.Local(c))
		}
	}
	return b
}

// rodBox is the box around a rod in the cast frame; its ends are flat.
func (u *Unit) rodBox(r *geom.Rod) geom.Box {
	b := geom.EmptyBox
	for i := 1; i < len(r.Path); i++ {
		p, q := u.Frame.Local(r.Path[i-1]), u.Frame.Local(r.Path[i])
		d := q.Sub(p).Unit()
		across := func(c float64) float64 { return r.Radius * math.Sqrt(max(0, 1-c*c)) }
		half := geom.V(across(d.X), across(d.Y), across(d.Z))
		b = b.Union(geom.BoxOf(p.Sub(half), p.Add(half), q.Sub(half), q.Add(half)))
	}
	return b
}

// blockFace is the side of the form that an item reaches: first of those that
// lie on its long axis, then the one it comes nearest to.
func (u *Unit) blockFace(it *model.Item, b geom.Box) Face {
	if len(it.Anchors) > 0 {
		return u.anchorFace(it.Anchors[0])
	}
	gaps := [6]float64{
		Up: -b.Max.Z, Down: b.Min.Z + u.Size.Z, Left: b.Min.X, Right: u.Size.X - b.Max.X, Lower: b.Min.Y, Upper: u.Size.Y - b.Max.Y,
	}
	size := b.Size()
	const slender, reach = 2.0, 30.0
	long := geom.Vec{}
	switch {
	case size.X > slender*max(size.Y, size.Z):
		long.X = 1
	case size.Y > slender*max(size.X, size.Z):
		long.Y = 1
	case size.Z > slender*max(size.X, size.Y):
		long.Z = 1
	}
	best, least := Up, math.Inf(1)
	for f := Up; f <= Upper; f++ {
		g := gaps[f]
		if math.Abs(f.Normal().Dot(long)) > 0.5 && g < reach {
			g -= 1e6
		}
		if g < least-1e-6 {
			best, least = f, g
		}
	}
	return best
}

// name numbers the anchors from the datum corner along the rows, gives the sets
// their marks and puts them in order.
func (u *Unit) name() {
	for _, s := range u.Sets {
		s.Mark = setMark(s.Model, s.Items)
		s.sortByRows()
	}
	slices.SortStableFunc(u.Sets, func(a, b *Set) int {
		return cmp.Or(finding.Natural(a.Mark, b.Mark), cmp.Compare(a.Face, b.Face), comparePlace(a.Face.flat(a.place()), b.Face.flat(b.place())))
	})
	taken := namer{"form": true}
	for _, s := range u.Sets {
		s.Mark = taken.unique(s.Mark)
		s.nameAnchors()
	}
}

// nameAnchors numbers them; the item's own mark stays where it tells them apart.
func (s *Set) nameAnchors() {
	seen := map[string]int{}
	for i := range s.Anchors {
		seen[labelOf(&s.Anchors[i].Item.Ref)]++
	}
	for i := range s.Anchors {
		a := &s.Anchors[i]
		a.Number = i + 1
		if m := labelOf(&a.Item.Ref); m == keyPart(a.Item.Mark) && seen[m] == 1 {
			a.Mark = m
		} else {
			a.Mark = s.Mark + " no. " + itoa(a.Number)
		}
	}
}

// rowPlay is how far anchors may be off a line, in mm, and still be one row.
const rowPlay = 2

// sortByRows orders the anchors from the datum corner: row by row, along each.
func (s *Set) sortByRows() {
	at := func(a *Anchor) geom.Vec2 { return s.Face.flat(a.At) }
	slices.SortStableFunc(s.Anchors, func(a, b Anchor) int { return comparePlace(at(&a), at(&b)) })
	for from := 0; from < len(s.Anchors); {
		to := from + 1
		for to < len(s.Anchors) && at(&s.Anchors[to]).Y-at(&s.Anchors[to-1]).Y <= rowPlay {
			to++
		}
		slices.SortStableFunc(s.Anchors[from:to], func(a, b Anchor) int { return cmp.Compare(at(&a).X, at(&b).X) })
		from = to
	}
}

func comparePlace(a, b geom.Vec2) int { return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X)) }

// place is where the first item of the set is.
func (s *Set) place() geom.Vec {
	switch {
	case len(s.Anchors) > 0:
		return s.Anchors[0].At
	case len(s.Plates) > 0:
		return s.Plates[0].Corners[0]
	case len(s.Bodies) > 0:
		return s.Bodies[0].Min
	}
	return geom.Vec{}
}
