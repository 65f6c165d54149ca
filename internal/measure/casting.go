package measure

import (
	"math"
	"slices"
	"strings"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Casting is what the shape of a host and of what stands around it tells of how
// it lies in its form.
type Casting struct {
	Axes    [3]geom.Vec // of the host, unit, at right angles
	Size    [3]float64  // mm, of its body along them
	Faces   []geom.Vec  // unit, out of the faces that may be up
	Outside geom.Vec    // unit, to the side that looks out of the building; zero where it is not known
	host    *model.Host
}

// CastingOf works it out for a host with a body.
func CastingOf(h *model.Host, near *Surroundings) *Casting {
	c := &Casting{host: h, Axes: HostAxes(h)}
	for i, a := range c.Axes {
		lo, hi := Reach(h.Body, a)
		c.Size[i] = hi - lo
	}
	c.Faces = c.candidates()
	c.Outside = c.lookOut(near)
	c.Faces = c.mouldable()
	return c
}

// Nearest is the face that may be up nearest to a direction.
func (c *Casting) Nearest(d geom.Vec) geom.Vec {
	best := c.Faces[0]
	for _, f := range c.Faces {
		if f.Dot(d) > best.Dot(d)+1e-9 {
			best = f
		}
	}
	return best
}

// candidates are the faces that may be up: the two large ones of a plate, the
// four long ones of a member, all six of a block.
func (c *Casting) candidates() []geom.Vec {
	thin, long := 0, 0
	for i, s := range c.Size {
		if s < c.Size[thin]-1e-3 {
			thin = i
		}
		if s > c.Size[long]+1e-3 {
			long = i
		}
	}
	mid := 3 - thin - long
	if thin == long {
		mid = (thin + 1) % 3
	}
	both := func(out []geom.Vec, i int) []geom.Vec { return append(out, c.Axes[i], c.Axes[i].Neg()) }
	const plate, member = 0.5, 1.6
	switch {
	case c.Size[thin] < plate*c.Size[mid]:
		return both(nil, thin)
	case c.Size[long] > member*c.Size[mid] && thin != long:
		return both(both(nil, thin), mid)
	}
	var out []geom.Vec
	for i := range c.Axes {
		out = both(out, i)
	}
	return out
}

// mouldable are those candidates whose opposite face can lie on a form: flat over
// most of the host and nowhere below it, so that a corbel or the flight of a
// stair is not underneath; all where none is so.
func (c *Casting) mouldable() []geom.Vec {
	var out []geom.Vec
	for _, up := range c.Faces {
		if c.flatBelow(up.Neg()) {
			out = append(out, up)
		}
	}
	if len(out) == 0 {
		return c.Faces
	}
	return out
}

// flatBelow reports whether one plane that looks nearly along down bounds the
// host there and is at least half as large as the host is seen from that side.
func (c *Casting) flatBelow(down geom.Vec) bool {
	m := c.host.Body
	_, deepest := Reach(m, down)
	type plane struct {
		n       geom.Vec
		d, area float64
		lowest  float64
	}
	var planes []plane
	seen := 0.0
	const most = 200
	for i := range m.Tris {
		p, q, r := m.Tri(i)
		n := q.Sub(p).Cross(r.Sub(p))
		area := n.Dot(down) / 2
		if area <= 0 {
			continue
		}
		seen += area
		if n = n.Unit(); n.Dot(down) < 0.95 {
			continue
		}
		low := max(p.Dot(down), q.Dot(down), r.Dot(down))
		k := slices.IndexFunc(planes, func(o plane) bool { return o.n.Dot(n) > 1-1e-6 && math.Abs(o.d-n.Dot(p)) < 1 })
		if k >= 0 {
			planes[k].area += area
			planes[k].lowest = max(planes[k].lowest, low)
		} else if len(planes) < most {
			planes = append(planes, plane{n, n.Dot(p), area, low})
		}
	}
	return slices.ContainsFunc(planes, func(p plane) bool { return p.area > 0.5*seen && p.lowest > deepest-2 })
}

// lookOut is the side of a plate that stands that looks out of the building: no
// other host stands before it, or all at least twice as far as behind it; zero
// where that is not clear, or the model says that the wall is inside.
func (c *Casting) lookOut(near *Surroundings) geom.Vec {
	for _, p := range [2]string{"Pset_WallCommon.IsExternal", "IsExternal"} {
		if v, ok := c.host.Says(p); ok && (strings.EqualFold(v, "false") || v == ".F.") {
			return geom.Vec{}
		}
	}
	if len(c.Faces) != 2 || math.Abs(c.Faces[0].Z) > 0.3 {
		return geom.Vec{}
	}
	a, b := near.clear(c.host, c.Faces[0]), near.clear(c.host, c.Faces[1])
	const clearly = 2
	switch {
	case a < lookFar && b >= clearly*max(a, 1):
		return c.Faces[1]
	case b < lookFar && a >= clearly*max(b, 1):
		return c.Faces[0]
	}
	return geom.Vec{}
}
