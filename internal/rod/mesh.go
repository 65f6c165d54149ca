package rod

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// FromMesh finds the straight round shanks in a mesh: one for a bolt, two for a
// U-bar, several for a plate with studs or a set of bolts. Nuts, washers and
// heads count as heads of the shanks that run through them. Bodies that are not
// round and slender give none. The order follows the mesh and within one shell
// the length.
//
// The triangles may form one shell or several, share vertices or not, and meet
// along edges divided differently. A mesh that is not closed gives what its
// surface shows.
func FromMesh(m *geom.Mesh) []Member {
	b := newBody(m)
	ms, _ := b.members()
	return ms
}

// members finds the members of the body, and the tubes that are too short for
// one: nuts, washers, heads.
func (b *body) members() ([]Member, []*tube) {
	var tubes []*tube
	for _, s := range b.shells {
		s.findTubes()
		tubes = append(tubes, s.tubes...)
	}
	var found []candidate
	var stubs []*tube
	for _, t := range joinTubes(tubes) {
		ms := b.membersOf(t)
		if len(ms) == 0 {
			stubs = append(stubs, t)
		}
		for i := range ms {
			found = append(found, candidate{ms[i], t.straight()})
		}
	}
	return absorb(found), stubs
}

// membersOf are the slender straight shanks of a tube.
func (b *body) membersOf(t *tube) []Member {
	for i := range t.path {
		t.path[i] = t.path[i].Add(b.origin)
	}
	for i := range t.breaks {
		t.breaks[i] = t.breaks[i].Add(b.origin)
	}
	c := chain{
		path:   cleanPath(t.path),
		radius: t.radius,
		slack:  0.02 + 1e-3*t.radius + 2*math.Min(t.residual, 0.1*t.radius),
		dress:  (&dresser{b, t}).dress,
	}
	// heads and nuts at its ends can double the length of a short shank
	c.least = slender(t.sides, t.radius) / 2
	var out []Member
	for _, m := range c.members() {
		m.Sides, m.Residual = t.sides, t.residual
		for i := range m.Alternatives {
			m.Alternatives[i].Sides, m.Alternatives[i].Residual = t.sides, t.residual
		}
		if m.Length() >= slender(t.sides, t.radius) {
			out = append(out, m)
		}
	}
	return out
}

// slender is the least length of a shank: as long as it is thick, and of a
// hexagon three times its width, since a shorter one is a nut.
func slender(sides int, radius float64) float64 {
	if sides == 5 || sides == 6 {
		return 3 * math.Sqrt(3) * radius
	}
	return 2 * radius
}

// candidate is a member that may be a part of another one.
type candidate struct {
	Member
	own float64 // length of its own cylinder, without heads and thread
}

// straight is the length of the longest piece of the centreline.
func (t *tube) straight() float64 {
	l := 0.0
	for i := 1; i < len(t.path); i++ {
		l = math.Max(l, t.path[i].Dist(t.path[i-1]))
	}
	return l
}

// absorb drops members that are a part of a longer one: the cylinder of its
// head, its thread, a second copy of it.
func absorb(cs []candidate) []Member {
	order := make([]int, len(cs))
	for i := range cs {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(cs[j].own, cs[i].own) })
	gone := make([]bool, len(cs))
	for k, i := range order {
		for _, j := range order[k+1:] {
			if !gone[i] && !gone[j] && cs[i].holds(&cs[j].Member) {
				gone[j] = true
			}
		}
	}
	var out []Member
	for i := range cs {
		if !gone[i] {
			out = append(out, cs[i].Member)
		}
	}
	return out
}

func (m *Member) holds(o *Member) bool {
	x := axis{m.A, m.Axis()}
	if x.off(o.A) > 0.2*m.Radius || x.off(o.B) > 0.2*m.Radius {
		return false
	}
	from, to := min(x.depth(o.A), x.depth(o.B)), max(x.depth(o.A), x.depth(o.B))
	if from < -touch || to > m.Length()+touch {
		return false
	}
	if o.Radius >= 0.75*m.Radius && o.Radius <= upset*m.Radius && math.Abs(o.Inner-m.Inner) < 0.05*m.Radius {
		return true
	}
	return slices.ContainsFunc(m.Heads, func(h Head) bool {
		return o.Radius < 1.05*h.Radius && from > h.From-touch && to < h.To+touch
	})
}
