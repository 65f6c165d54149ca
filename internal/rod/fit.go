package rod

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// ring is a loop of a section seen along the prism that its facets form.
type ring struct {
	axis             // through the middle of the loop, along the prism
	r        float64 // radius of the fitted circle
	residual float64 // worst distance of a corner from it
	least    float64 // least and
	most     float64 // greatest distance of a corner from the centre
	sides    int     // corners
	tilt     float64 // root mean square of the sine between facets and axis
	outward  bool    // every facet faces away from the centre
	inward   bool    // every facet faces the centre: a hole
	gap      float64 // widest angle between neighbouring corners
	cover    float64 // length of the outline against the polygon through the corners
	normals  [3]float64
}

const (
	cosFacet = 0.99978  // 1.2 degrees: more than the noise of a short facet, less than the turn of 128 sides
	cosFine  = 0.999998 // 0.1 degrees: for sections of more sides
)

// fit fits a prism and a circle to a loop; d is roughly the direction of the
// axis. ok is false when the loop has too few corners to say anything.
func (sec *section) fit(lp int32, d geom.Vec) (ring, bool) {
	var g ring
	if sec.findCorners(lp, cosFacet) < 6 && sec.findCorners(lp, cosFine) < 6 {
		return g, false
	}
	g.d, g.tilt, g.normals = sec.prismAxis(lp)
	if g.d.Dot(d) < 0 {
		g.d = g.d.Neg()
	}
	o := sec.loops[lp].mean
	e1 := g.d.Perp()
	e2 := g.d.Cross(e1)
	var buf [64]geom.Vec2
	pts := buf[:0]
	for i := range sec.nodes {
		if nd := &sec.nodes[i]; nd.loop == lp && nd.corner {
			p := nd.at.Sub(o)
			pts = append(pts, geom.Vec2{X: p.Dot(e1), Y: p.Dot(e2)})
		}
	}
	c, r, ok := fitCircle(pts)
	if !ok {
		return g, false
	}
	g.a, g.r, g.sides = o.Add(e1.Mul(c.X)).Add(e2.Mul(c.Y)), r, len(pts)
	g.spread(pts, c)
	sec.faces(lp, &g)
	return g, true
}

// prismAxis is the direction that the facets of a loop have in common: the one
// in which their normals have the least weight.
func (sec *section) prismAxis(lp int32) (d geom.Vec, tilt float64, normals [3]float64) {
	var m sym3
	for i := range sec.segs {
		if sg := &sec.segs[i]; sg.loop == lp {
			m.add(sec.shell.normal[sg.tri], sg.p.Dist(sg.q))
		}
	}
	val, vec := m.eigen()
	sum := val[0] + val[1] + val[2]
	if sum <= 0 {
		return sec.n, 1, val
	}
	for i := range val {
		val[i] /= sum
	}
	return vec[0], math.Sqrt(math.Max(0, val[0])), val
}

// spread measures how the corners lie about the centre.
func (g *ring) spread(pts []geom.Vec2, c geom.Vec2) {
	g.least = math.Inf(1)
	var buf [64]float64
	angles := buf[:0]
	for _, p := range pts {
		p = p.Sub(c)
		l := p.Norm()
		g.least, g.most = math.Min(g.least, l), math.Max(g.most, l)
		angles = append(angles, math.Atan2(p.Y, p.X))
	}
	g.residual = math.Max(g.most-g.r, g.r-g.least)
	slices.Sort(angles)
	polygon := 0.0
	for i := range angles {
		next := angles[0] + 2*math.Pi
		if i+1 < len(angles) {
			next = angles[i+1]
		}
		g.gap = math.Max(g.gap, next-angles[i])
		polygon += 2 * g.r * math.Sin(math.Min(next-angles[i], math.Pi)/2)
	}
	g.cover = polygon
}

// faces says which way the facets face, and turns cover into a share.
func (sec *section) faces(lp int32, g *ring) {
	out, in, length := 0.0, 0.0, 0.0
	for i := range sec.segs {
		sg := &sec.segs[i]
		if sg.loop != lp {
			continue
		}
		p, q := sg.p.Sub(g.a), sg.q.Sub(g.a)
		p, q = p.Sub(g.d.Mul(p.Dot(g.d))), q.Sub(g.d.Mul(q.Dot(g.d)))
		l := p.Dist(q)
		length += l
		if sec.shell.normal[sg.tri].Dot(p.Add(q)) > 0 {
			out += l
		} else {
			in += l
		}
	}
	g.outward, g.inward = in <= 0.01*length, out <= 0.01*length
	if g.cover > 0 {
		g.cover = length / g.cover
	}
}

// round reports whether the loop is the section of a straight round bar or
// bore: at least six corners on one circle, all around, on a true prism. Six is
// a hexagon: nothing in its section tells it from a coarse round bar.
func (g *ring) round() bool {
	const (
		tilt = 0.0105 // 0.6 degrees: a cone is no bar
		gap  = 65 * math.Pi / 180
	)
	return g.r > 10*weldTol && g.tilt <= tilt && g.gap <= gap && g.residual <= 0.02*g.r+0.01 &&
		g.cover > 0.95 && g.cover < 2.1 && g.normals[1] > 0.3
}

// bent reports whether the loop can be one step round a bend of a bar with
// radius r: a ring squeezed by the half turn of the step.
func (g *ring) bent(r float64) bool {
	return g.outward && g.tilt <= 0.02 && g.most <= 1.06*r+0.02 && g.most >= 0.94*r-0.02 && g.least >= 0.6*r && g.gap < math.Pi/2
}

// fitCircle is the least squares circle through points, in the algebraic form,
// which is exact for points on a circle.
func fitCircle(pts []geom.Vec2) (c geom.Vec2, r float64, ok bool) {
	n := float64(len(pts))
	if n < 3 {
		return c, 0, false
	}
	var m geom.Vec2
	for _, p := range pts {
		m = m.Add(p)
	}
	m = m.Mul(1 / n)
	var uu, uv, vv, uz, vz, z float64
	for _, p := range pts {
		p = p.Sub(m)
		q := p.Dot(p)
		uu += p.X * p.X
		uv += p.X * p.Y
		vv += p.Y * p.Y
		uz += p.X * q
		vz += p.Y * q
		z += q
	}
	det := uu*vv - uv*uv
	if det <= 1e-9*(uu+vv)*(uu+vv) {
		return c, 0, false
	}
	k := geom.Vec2{X: (uz*vv - vz*uv) / (2 * det), Y: (vz*uu - uz*uv) / (2 * det)}
	return m.Add(k), math.Sqrt(k.Dot(k) + z/n), true
}

// sym3 is a symmetric 3 x 3 matrix.
type sym3 struct{ xx, xy, xz, yy, yz, zz float64 }

// add adds w v v^T.
func (m *sym3) add(v geom.Vec, w float64) {
	m.xx += w * v.X * v.X
	m.xy += w * v.X * v.Y
	m.xz += w * v.X * v.Z
	m.yy += w * v.Y * v.Y
	m.yz += w * v.Y * v.Z
	m.zz += w * v.Z * v.Z
}

// eigen gives the eigenvalues, the smallest first, and their unit vectors, by
// Jacobi rotations.
func (m *sym3) eigen() (val [3]float64, vec [3]geom.Vec) {
	a := [3][3]float64{{m.xx, m.xy, m.xz}, {m.xy, m.yy, m.yz}, {m.xz, m.yz, m.zz}}
	v := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} // rows are the vectors
	for range 30 {
		off := a[0][1]*a[0][1] + a[0][2]*a[0][2] + a[1][2]*a[1][2]
		if off <= 1e-32*(a[0][0]*a[0][0]+a[1][1]*a[1][1]+a[2][2]*a[2][2]) {
			break
		}
		for _, pq := range [3][2]int{{0, 1}, {0, 2}, {1, 2}} {
			rotate(&a, &v, pq[0], pq[1])
		}
	}
	order := [3]int{0, 1, 2}
	slices.SortFunc(order[:], func(i, j int) int {
		switch {
		case a[i][i] < a[j][j]:
			return -1
		case a[i][i] > a[j][j]:
			return 1
		}
		return i - j
	})
	for k, i := range order {
		val[k] = a[i][i]
		vec[k] = geom.Vec{X: v[i][0], Y: v[i][1], Z: v[i][2]}
	}
	return val, vec
}

// rotate makes a[p][q] zero.
func rotate(a, v *[3][3]float64, p, q int) {
	if a[p][q] == 0 {
		return
	}
	theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
	t := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
	if theta < 0 {
		t = -t
	}
	c := 1 / math.Sqrt(t*t+1)
	s := t * c
	for k := range 3 {
		kp, kq := a[k][p], a[k][q]
		a[k][p], a[k][q] = c*kp-s*kq, s*kp+c*kq
	}
	for k := range 3 {
		pk, qk := a[p][k], a[q][k]
		a[p][k], a[q][k] = c*pk-s*qk, s*pk+c*qk
	}
	for k := range 3 {
		pk, qk := v[p][k], v[q][k]
		v[p][k], v[q][k] = c*pk-s*qk, s*pk+c*qk
	}
}
