package asbuilt

import (
	"fmt"
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/setout"
)

// point is something that an instrument can sight.
type point struct {
	key    string
	what   string // last part of the key
	set    string // "form" for corners
	text   string
	at     geom.Vec // cast frame
	unit   *setout.Unit
	of     *setout.Set    // nil for a reference
	anchor *setout.Anchor // nil unless it is the open end of one
	plate  *setout.Plate  // nil unless it is a corner of one
}

// reference reports whether surveys are fitted by the point.
func (p *point) reference() bool { return p.of == nil }

// pointsOf are the corners of a unit, to fit a survey by, the open ends of its
// anchors and the corners of its plates. Studs behind a plate are not to be seen.
func pointsOf(u *setout.Unit) []*point {
	out := corners(u)
	for _, s := range u.Sets {
		for i := range s.Anchors {
			if a := &s.Anchors[i]; len(a.Item.Outline) == 0 {
				out = append(out, anchorPoint(u, s, a))
			}
		}
		for i := range s.Plates {
			p := &s.Plates[i]
			for k, c := range p.Corners {
				what := fmt.Sprintf("plate point %d", k+1)
				if len(s.Plates) > 1 {
					what += " " + p.Mark
				}
				out = append(out, &point{
					what: what, set: s.Mark, text: fmt.Sprintf("%s, corner %d of its outer face", p.Mark, k+1),
					at: c, unit: u, of: s, plate: p,
				})
			}
		}
	}
	for _, p := range out {
		p.key = u.Mark + "/" + p.set + "/" + p.what
	}
	return out
}

func anchorPoint(u *setout.Unit, s *setout.Set, a *setout.Anchor) *point {
	text := a.Mark + ", middle of its open end"
	if a.Entry != nil && a.Entry.Dist > 0 {
		text = a.Mark + ", middle of the thread's end"
	}
	return &point{what: fmt.Sprintf("point %d", a.Number), set: s.Mark, text: text, at: u.Frame.Local(a.Open), unit: u, of: s, anchor: a}
}

// label is what hints call the point.
func (p *point) label() string {
	if p.anchor != nil {
		return p.anchor.Mark
	}
	return p.set + " " + p.what
}

// cornerNames are the corners of the form, numbered as the sheet is read, the
// face that is up first.
var cornerNames = [8]string{
	"left lower corner, face up", "right lower corner, face up", "right upper corner, face up", "left upper corner, face up",
	"left lower corner, form face", "right lower corner, form face", "right upper corner, form face", "left upper corner, form face",
}

// corners are the sharp corners of the concrete nearest to those of the form. A
// corner keeps its number whether or not there are others.
func corners(u *setout.Unit) []*point {
	var sharp []geom.Vec
	for _, p := range sharpCorners(u.Host.Body) {
		if !inVoid(u, p) {
			sharp = append(sharp, u.Frame.Local(p))
		}
	}
	s := u.Size
	form := [8]geom.Vec{
		{}, {X: s.X}, {X: s.X, Y: s.Y}, {Y: s.Y},
		{Z: -s.Z}, {X: s.X, Z: -s.Z}, {X: s.X, Y: s.Y, Z: -s.Z}, {Y: s.Y, Z: -s.Z},
	}
	// A corner is that of the form it is nearest to, and of several the nearest.
	best := [8]int{-1, -1, -1, -1, -1, -1, -1, -1}
	for i, c := range sharp {
		k := 0
		for j := range form {
			if c.Dist(form[j]) < c.Dist(form[k])-geom.Tol {
				k = j
			}
		}
		if b := best[k]; b < 0 || c.Dist(form[k]) < sharp[b].Dist(form[k])-geom.Tol {
			best[k] = i
		}
	}
	var out []*point
	for k, b := range best {
		if b < 0 {
			continue
		}
		text := cornerNames[k]
		if sharp[b].Dist(form[k]) > 1 {
			text = "corner of the concrete nearest to the " + text
		}
		out = append(out, &point{what: fmt.Sprintf("corner %d", k+1), set: "form", text: text, at: sharp[b], unit: u})
	}
	return out
}

// sharpCorners are the points of a body where three of its flat faces meet that
// are turned from one another by more than 20 degrees: what one finds on the
// concrete. Where a round surface is made of facets it has none.
func sharpCorners(m *geom.Mesh) []geom.Vec {
	type corner struct {
		at      geom.Vec
		normals []geom.Vec
	}
	at := map[[3]int64]*corner{}
	var order []*corner
	for _, f := range m.PlanarFaces() {
		for _, loop := range f.Outline {
			for _, p := range loop {
				k := cell(p)
				c := at[k]
				if c == nil {
					c = &corner{at: p}
					at[k] = c
					order = append(order, c)
				}
				if distinct(c.normals, f.Plane.N) {
					c.normals = append(c.normals, f.Plane.N)
				}
			}
		}
	}
	var out []geom.Vec
	for _, c := range order {
		if len(c.normals) >= 3 {
			out = append(out, c.at)
		}
	}
	return out
}

// cell is where a point lies, to a tenth of a mm.
func cell(p geom.Vec) [3]int64 {
	return [3]int64{int64(math.Round(p.X * 10)), int64(math.Round(p.Y * 10)), int64(math.Round(p.Z * 10))}
}

func distinct(normals []geom.Vec, n geom.Vec) bool {
	const cos20 = 0.9397
	for _, o := range normals {
		if o.Dot(n) > cos20 {
			return false
		}
	}
	return true
}

// inVoid reports whether an opening or a recess takes a corner away.
func inVoid(u *setout.Unit, p geom.Vec) bool {
	for _, v := range u.Host.Voids {
		if v.Box.Grow(1).Has(p) {
			return true
		}
	}
	return false
}
