package rod

import (
	"cmp"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// straight is the largest change of direction within one straight piece.
const straight = math.Pi / 180

// shortest straight piece, as a share of the longest one, that is worth offering
// as another shank.
const worthOffering = 0.25

// FromRod splits a swept rod into its straight shanks: one for a straight rod or
// one with hooks, two for a U-bar. A path without a piece of positive length
// gives none.
func FromRod(r geom.Rod) []Member {
	if !(r.Radius > 0) || math.IsInf(r.Radius, 0) {
		return nil
	}
	c := chain{path: cleanPath(r.Path), radius: r.Radius, slack: 2e-4 * r.Radius}
	ms := c.members()
	for i := range ms {
		setExact(&ms[i], r.Inner)
	}
	return ms
}

func setExact(m *Member, inner float64) {
	m.Exact = true
	if inner > 0 && inner < m.Radius {
		m.Inner, m.Bore = inner, m.Length()
	}
	for i := range m.Alternatives {
		setExact(&m.Alternatives[i], inner)
	}
}

// cleanPath drops pieces too short to have a direction, and what follows a point
// that is not finite.
func cleanPath(path []geom.Vec) []geom.Vec {
	out := make([]geom.Vec, 0, len(path))
	for _, p := range path {
		if !p.Finite() {
			break
		}
		if len(out) == 0 || out[len(out)-1].Dist(p) > 1e-6 {
			out = append(out, p)
		}
	}
	return out
}

// chain is the centreline of one bar.
type chain struct {
	path   []geom.Vec
	radius float64
	slack  float64                                    // mm that a point may lie off a straight piece
	least  float64                                    // length of the longest straight piece at least
	dress  func(*Member, *chain, run) (mouthAtB bool) // adds heads and bore; nil for an exact rod
}

// run is a straight piece of a chain: path[from] to path[to].
type run struct {
	from, to int
	length   float64
}

// members are the shanks of the chain, oriented, with their hooks.
func (c *chain) members() []Member {
	runs := c.runs()
	if len(runs) == 0 || runs[0].length < c.least || c.chord(runs[0]) {
		return nil
	}
	legs := c.legs(runs)
	if legs == nil {
		legs = runs[:1]
	}
	ms := make([]Member, 0, len(legs))
	for _, r := range legs {
		ms = append(ms, c.member(r))
	}
	for _, r := range runs {
		if r != legs[0] && r != legs[len(legs)-1] {
			ms[0].Alternatives = append(ms[0].Alternatives, c.member(r))
		}
	}
	return ms
}

// maxRuns bounds how many straight pieces of one bar are offered.
const maxRuns = 8

// runs are the straight pieces that may be shanks, the longest first.
func (c *chain) runs() []run {
	n := len(c.path) - 1
	if n < 1 {
		return nil
	}
	length := make([]float64, n)
	order := make([]int, n)
	for i := range order {
		order[i] = i
		length[i] = c.path[i].Dist(c.path[i+1])
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(length[j], length[i]) })
	taken := make([]bool, n)
	var out []run
	for _, seed := range order {
		if taken[seed] {
			continue
		}
		r := c.grow(seed, taken)
		for i := r.from; i < r.to; i++ {
			taken[i] = true
		}
		if len(out) == 0 || r.length >= c.worth(out[0]) {
			out = insertRun(out, r, c.worth(r))
		}
	}
	return out
}

// worth is the least length of a run beside a longer one.
func (c *chain) worth(longest run) float64 {
	return math.Max(2*c.radius, worthOffering*longest.length)
}

// insertRun keeps the runs sorted by length; of equal ones the first on the path
// comes first. A new longest run drops those that are not worth offering any more.
func insertRun(out []run, r run, worth float64) []run {
	i := len(out)
	for i > 0 && (out[i-1].length < r.length-geom.Tol || out[i-1].length < r.length+geom.Tol && out[i-1].from > r.from) {
		i--
	}
	out = append(out, run{})
	copy(out[i+1:], out[i:])
	out[i] = r
	if i == 0 {
		for len(out) > 1 && out[len(out)-1].length < worth {
			out = out[:len(out)-1]
		}
	}
	return out[:min(len(out), maxRuns)]
}

// grow extends the piece path[seed]..path[seed+1] over its neighbours as long as
// they run on straight.
func (c *chain) grow(seed int, taken []bool) run {
	r := run{from: seed, to: seed + 1}
	line := axis{c.path[seed], c.path[seed+1].Sub(c.path[seed]).Unit()}
	length := c.path[seed].Dist(c.path[seed+1])
	for {
		grown := false
		if r.to < len(taken) && !taken[r.to] && c.runsOn(line, length, r.from, r.to, r.to+1) {
			r.to++
			grown = true
		}
		if r.from > 0 && !taken[r.from-1] && c.runsOn(line, length, r.to, r.from, r.from-1) {
			r.from--
			grown = true
		}
		if !grown {
			break
		}
	}
	r.length = c.path[r.from].Dist(c.path[r.to])
	return r
}

// runsOn reports whether the piece b-next continues the straight a-b, which grew
// from the piece of the given length on the given line. The first short pieces of
// a finely divided arc turn by less than a degree, but leave the line at once.
func (c *chain) runsOn(line axis, length float64, a, b, next int) bool {
	u, v := c.path[b].Sub(c.path[a]).Unit(), c.path[next].Sub(c.path[b])
	along := u.Dot(v)
	aside := u.Cross(v).Norm()
	if along <= 0 || aside > along*math.Tan(straight) && aside > c.slack {
		return false
	}
	if v.Norm() >= 2*c.radius && aside <= along*math.Tan(straight) {
		return true
	}
	far := c.path[next]
	return aside <= c.slack && line.off(far) <= c.slack*(1+far.Dist(line.a)/length)
}

// legs are the two shanks of a U-bar or hairpin: straight first and last pieces
// of much the same length that lead back the way they came. nil for other bars.
func (c *chain) legs(runs []run) []run {
	var first, last *run
	for i := range runs {
		if r := &runs[i]; r.from == 0 {
			first = r
		} else if r.to == len(c.path)-1 {
			last = r
		}
	}
	if first == nil || last == nil {
		return nil
	}
	short, long := math.Min(first.length, last.length), math.Max(first.length, last.length)
	if short < 0.75*long || short < 0.5*runs[0].length {
		return nil
	}
	if c.dir(*first).Dot(c.dir(*last)) > -0.5 {
		return nil
	}
	return []run{*first, *last}
}

func (c *chain) dir(r run) geom.Vec { return c.path[r.to].Sub(c.path[r.from]).Unit() }

// member is the run as a shank with the rest of the chain as its hooks.
func (c *chain) member(r run) Member {
	m := Member{A: c.path[r.from], B: c.path[r.to], Radius: c.radius}
	mouthAtB := c.dress != nil && c.dress(&m, c, r)
	if r.to < len(c.path)-1 {
		m.Hook = newHook(m.A, c.path[r.to:], c.radius)
	}
	if r.from > 0 {
		back := make([]geom.Vec, 0, r.from+1)
		for i := r.from; i >= 0; i-- {
			back = append(back, c.path[i])
		}
		m.Back = newHook(m.B, back, c.radius)
	}
	m.orient(mouthAtB)
	return m
}

// chord reports whether the run is no straight piece but a chord of an arc or a
// ring: both neighbours are much like it in length and turn.
func (c *chain) chord(r run) bool {
	n := len(c.path)
	if n < 5 {
		return false
	}
	u := c.dir(r)
	var turns []float64
	alike := func(i, j int) {
		v := c.path[j].Sub(c.path[i])
		cos := u.Dot(v.Unit())
		if math.Abs(v.Norm()-r.length) < 0.25*r.length && cos > math.Cos(math.Pi/180*46) {
			turns = append(turns, math.Acos(math.Min(1, cos)))
		}
	}
	want := 0
	if r.from > 0 {
		want++
		alike(r.from-1, r.from)
	}
	if r.to < n-1 {
		want++
		alike(r.to, r.to+1)
	}
	return want > 0 && len(turns) == want && math.Abs(turns[0]-turns[want-1]) < 0.2*turns[0]
}
