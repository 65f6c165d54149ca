package recognise

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// longAnchor gives an item without a round member, such as a flat lifter, the
// long axis of its body, when one is clearly the longest.
func longAnchor(it *model.Item, host *model.Host) *model.Anchor {
	var pts []geom.Vec
	for i := range it.Bodies {
		if m := it.Bodies[i].Mesh; m != nil {
			pts = append(pts, m.Verts...)
		}
	}
	f, box, ok := principal(pts)
	s := box.Size()
	if !ok || s.X < 1.5*max(s.Y, s.Z) {
		return nil
	}
	c := box.Center()
	it.Evidence = append(it.Evidence, "axis taken from the long side of its body")
	sh := &shank{
		a:      f.Apply(geom.V(box.Min.X, c.Y, c.Z)),
		b:      f.Apply(geom.V(box.Max.X, c.Y, c.Z)),
		radius: it.Stated.Diameter / 2,
	}
	return sh.anchor(host)
}

// principal is the frame whose x axis is the direction in which the points are
// spread most, and their box in it.
func principal(pts []geom.Vec) (geom.Affine, geom.Box, bool) {
	if len(pts) == 0 {
		return geom.Identity, geom.EmptyBox, false
	}
	c := geom.BoxOf(pts...).Center()
	d := geom.V(1, 0.7, 0.4)
	for range 60 { // power iteration on the covariance
		var next geom.Vec
		for _, p := range pts {
			q := p.Sub(c)
			next = next.Add(q.Mul(q.Dot(d)))
		}
		if d = next.Unit(); d == (geom.Vec{}) {
			return geom.Identity, geom.EmptyBox, false
		}
	}
	f := geom.Affine{X: d, Y: d.Perp(), T: c}
	f.Z = f.X.Cross(f.Y)
	box := geom.EmptyBox
	for _, p := range pts {
		box = box.Add(f.Local(p))
	}
	return f, box, true
}

// sizeText is the size as a person says it.
func (d *draft) sizeText() string {
	it := d.item
	mm := func(v float64) string { return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64) }
	if it.Kind == model.Plate || it.Kind == model.Template {
		if len(it.Outline) == 4 {
			a, b := it.Outline[0].Dist(it.Outline[1]), it.Outline[1].Dist(it.Outline[2])
			return mm(max(a, b)) + " x " + mm(min(a, b)) + " x " + mm(it.Thick)
		}
	}
	if len(it.Anchors) > 0 {
		a := it.Anchors[0]
		dia := math.Round(it.Stated.Diameter*1000) / 1000 // a model in feet states 20.0000004
		if dia == 0 {
			dia = a.Diameter
		}
		if dia > 0 {
			threaded := it.Kind == model.Bolt || it.Kind == model.Socket
			whole := math.Round(dia)
			if threaded && coarseThreads[int(whole)] && math.Abs(dia-whole) < 1e-3 { // models in feet round
				return "M" + mm(dia) + " x " + mm(a.Deepest)
			}
			return "dia " + mm(dia) + " x " + mm(a.Deepest)
		}
	}
	s := d.sides()
	whole := func(v float64) string { return strconv.FormatFloat(math.Round(v), 'f', -1, 64) }
	return whole(s[0]) + " x " + whole(s[1]) + " x " + whole(s[2])
}

// sides are the sides of the box around the item in the frame of its largest body,
// longest first, so that they do not change when the item is turned.
func (d *draft) sides() [3]float64 {
	it := d.item
	s := it.Box.Size()
	var big *geom.Mesh
	for i := range it.Bodies {
		if m := it.Bodies[i].Mesh; m != nil && (big == nil || m.Area() > big.Area()) {
			big = m
		}
	}
	if big != nil {
		f, _ := d.longFrame(big)
		box := geom.EmptyBox
		for i := range it.Bodies {
			if m := it.Bodies[i].Mesh; m != nil {
				for _, v := range m.Verts {
					box = box.Add(f.Local(v))
				}
			}
		}
		s = box.Size()
	}
	sides := [3]float64{s.X, s.Y, s.Z}
	slices.SortFunc(sides[:], func(a, b float64) int { return cmp.Compare(b, a) })
	return sides
}

func nameOf(e *elem) string {
	if e.Name != "" {
		return e.Name
	}
	return e.GlobalID
}
