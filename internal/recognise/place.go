package recognise

import (
	"fmt"

	"embedcheck/internal/element"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// candidate is an element that may be cast in, with its bodies and the concrete
// that they were found in.
type candidate struct {
	*elem
	pieces []piece
	lack   []model.Unread
	in     *body
	share  float64 // of its samples that lie in the concrete
	group  *element.Whole
	near   bool // concrete is within a hand's width
	used   bool
}

// place looks for the concrete around every element that may be an item.
func (b *builder) place() {
	for _, e := range b.elems {
		if e.role == itemRole {
			b.cands = append(b.cands, &candidate{elem: e, group: b.group(e.Whole)})
		}
	}
	beside := map[*element.Whole]bool{} // assemblies with a part near concrete
	for _, c := range b.cands {
		if c.near = b.near(c.box); c.near && c.group != nil {
			beside[c.group] = true
		}
	}
	element.Parallel(len(b.cands), b.opt.Workers, func(i int) {
		c := b.cands[i]
		if c.near || c.strong || beside[c.group] {
			c.pieces, c.lack = c.elem.pieces()
			b.findHost(c)
		}
	})
}

// group is the outermost whole that has no concrete in it: the assembly that an
// item's parts belong to, not the cast unit around them.
func (b *builder) group(w *element.Whole) *element.Whole {
	var g *element.Whole
	for ; w != nil && !b.units[w]; w = w.Up {
		g = w
	}
	return g
}

// near reports whether any concrete is within a hand's width of the box.
func (b *builder) near(box geom.Box) bool {
	found := false
	if !box.Empty() {
		b.tree.Query(box.Grow(100), func(int) bool { found = true; return false })
	}
	return found
}

// findHost takes the concrete that holds most of the item; of equals the one of
// the same assembly; else, for flat things, the one that it lies against.
func (b *builder) findHost(c *candidate) {
	best := 0.0
	b.tree.Query(c.box.Grow(5), func(i int) bool {
		h := b.bodies[i]
		if !h.ready() && h.host.Body == nil {
			return true
		}
		share := c.shareIn(h)
		if c.sameUnit(h) {
			share *= 1 + 1e-6
		}
		if share > best+1e-9 {
			best, c.in, c.share = share, h, share
		}
		return true
	})
	if c.in != nil {
		return
	}
	b.tree.Query(c.box.Grow(5), func(i int) bool {
		h := b.bodies[i]
		if h.host.Body != nil && c.touches(h) && (c.in == nil || c.sameUnit(h)) {
			c.in = h
		}
		return true
	})
}

func (c *candidate) sameUnit(h *body) bool {
	return c.Whole != nil && c.Whole.Top() == h.elem.Whole.Top()
}

// shareIn is the share of the item's length or body that lies in the concrete.
func (c *candidate) shareIn(h *body) float64 {
	var in, all float64
	for i := range c.pieces {
		if r := c.pieces[i].body.Rod; r != nil {
			all += r.Length()
			in += lengthIn(r.Path, h.host)
			continue
		}
		pts := c.pieces[i].samples()
		weight := c.pieces[i].body.Box.Size().Norm() / float64(len(pts))
		for _, p := range pts {
			all += weight
			if h.host.Box.Has(p) && h.host.Body.Contains(p) {
				in += weight
			}
		}
	}
	if all == 0 {
		return 0
	}
	return in / all
}

// lengthIn is the length of a path that lies in the host's body.
func lengthIn(path []geom.Vec, h *model.Host) float64 {
	var sum float64
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		d := b.Sub(a)
		if l := d.Norm(); l > 0 && h.Box.Overlaps(geom.BoxOf(a, b)) {
			for _, in := range h.Body.Inside(a, d) {
				sum += l * max(0, min(in.To, 1)-max(in.From, 0))
			}
		}
	}
	return sum
}

func (c *candidate) touches(h *body) bool {
	for i := range c.pieces {
		for _, p := range c.pieces[i].around() {
			if h.host.Box.Has(p) && h.host.Body.Contains(p) {
				return true
			}
		}
	}
	return false
}

// confirm decides whether an element that looks like an item is one, now that
// the concrete around it is known.
func (c *candidate) confirm() bool {
	switch {
	case c.share > 0.02:
		if c.kind == model.Other {
			return c.kindByShape()
		}
		return true
	case c.in != nil && (c.kind == model.Plate || c.kind == model.Channel || c.kind == model.Former || c.kind == model.Template):
		c.evidence("lies against " + c.in.host.Name)
		return true
	case c.in != nil && c.kind != model.Other && c.kind != model.Fitting:
		return true
	}
	return c.strong
}

// kindByShape names what has no word for it by its form: a slender round steel
// body that stands out of the concrete is a bolt, a flat one in its surface a
// plate.
func (c *candidate) kindByShape() bool {
	if c.share < 0.25 {
		c.leave(fmt.Sprintf("steel, but only %.0f%% of it lies in concrete", 100*c.share))
		return false
	}
	for i := range c.pieces {
		for k := range c.pieces[i].members {
			m := &c.pieces[i].members[k]
			if l := m.A.Dist(m.B); l > 6*m.Radius && m.Radius <= 40 {
				c.kind = model.Bolt
				c.evidence(fmt.Sprintf("round steel, diameter %.1f mm, %.0f mm long, %.0f%% of it in %s", 2*m.Radius, l, 100*c.share, c.in.host.Name))
				return true
			}
		}
	}
	d := c.dims()
	if d[0] <= 40 && d[1] >= 2*d[0] {
		c.kind = model.Plate
		c.evidence(fmt.Sprintf("flat steel, %.0f x %.0f x %.0f mm, in %s", d[2], d[1], d[0], c.in.host.Name))
		return true
	}
	c.evidence("steel in " + c.in.host.Name)
	return true
}
