package geom

// Interval is a part of a line that lies inside a body.
type Interval struct {
	From, To       float64
	FromHit, ToHit Hit
}

// joinGap is the length of a gap, in mm, that Inside does not see.
const joinGap = 1e-6

// Inside is the parts of the line o + t*d that lie inside the body, in rising
// order. Shells that overlap count once, hollows are left out. Gaps shorter than
// 1e-6 are closed, parts shorter than that dropped.
func (m *Mesh) Inside(o, d Vec) []Interval { return m.insideInto(nil, o, d) }

// insideInto is Inside, with the parts appended to out, which is empty.
func (m *Mesh) insideInto(out []Interval, o, d Vec) []Interval {
	var few [8]Hit
	depth := 0
	for _, h := range m.balanced(few[:0], o, d) {
		was := depth
		if h.Enter {
			depth++
		} else {
			depth--
		}
		switch {
		case was == 0:
			if n := len(out); n > 0 && h.T-out[n-1].To < joinGap {
				continue
			}
			out = append(out, Interval{From: h.T, FromHit: h, To: h.T, ToHit: h})
		case depth == 0 && len(out) > 0:
			out[len(out)-1].To, out[len(out)-1].ToHit = h.T, h
		}
	}
	kept := out[:0]
	for _, in := range out {
		if in.To-in.From > joinGap {
			kept = append(kept, in)
		}
	}
	return kept
}

// balanced is the crossings of the line or, when it slips through a gap of the
// mesh, so that it enters more often than it leaves, those of a line beside it
// that still meets the body. few is room for them.
func (m *Mesh) balanced(few []Hit, o, d Vec) []Hit {
	hits := m.castInto(few, o, d)
	if even(hits) {
		return hits
	}
	u := d.Perp()
	v := d.Unit().Cross(u)
	for _, off := range asides {
		beside := m.Ray(o.Add(u.Mul(off.X)).Add(v.Mul(off.Y)), d)
		if len(beside) > 0 && even(beside) {
			return beside
		}
	}
	return hits
}

var asides = [8]Vec2{
	{1e-5, 0.3e-5}, {-1.3e-5, 0.7e-5}, {0.4e-5, -2.1e-5}, {-2.3e-5, -3.1e-5},
	{1e-4, 0.3e-4}, {-1.3e-4, 0.7e-4}, {0.4e-4, -2.1e-4}, {-2.3e-4, -3.1e-4},
}

func even(hits []Hit) bool {
	n := 0
	for _, h := range hits {
		if h.Enter {
			n++
		} else {
			n--
		}
	}
	return n == 0
}

// Contains reports whether p lies inside the body. On the surface itself the
// answer is either.
func (m *Mesh) Contains(p Vec) bool {
	if !m.within().Has(p) {
		return false
	}
	var few [8]Hit
	votes := 0
	for _, d := range lookouts {
		hits := m.castInto(few[:0], p, d)
		n := 0
		for _, h := range hits {
			if h.T > 0 {
				if h.Enter {
					n--
				} else {
					n++
				}
			}
		}
		if even(hits) {
			return n != 0
		}
		if n != 0 {
			votes++
		}
	}
	return votes > len(lookouts)/2
}

// lookouts are directions along which bodies seldom have faces.
var lookouts = [5]Vec{
	{0.36719371, 0.53317483, 0.76218927}, {-0.69128733, 0.41190237, 0.59371241}, {0.21934871, -0.83912743, 0.49781253},
	{0.57193847, 0.31847293, -0.75591283}, {-0.48127391, -0.29384721, 0.82571934},
}
