package geom

// bspSubtract, bspUnion and bspIntersect are booleans by binary space partition
// (Naylor, Amanatides and Thibault, 1990), a way that has nothing in common with
// the one in use. Sides come out cut to pieces.
func bspSubtract(a *Mesh, cutters ...*Mesh) *Mesh {
	o := a.Box().Center()
	n := bspOf(a, o)
	for _, c := range cutters {
		b := bspOf(c, o)
		n.invert()
		n.clipTo(b)
		b.clipTo(n)
		b.invert()
		b.clipTo(n)
		b.invert()
		n.build(b.all(nil))
		n.invert()
	}
	return meshOf(n.all(nil), o)
}

type bspPoly struct {
	pts   []Vec
	plane Plane
	face  int32
}

type bspNode struct {
	plane       *Plane
	front, back *bspNode
	polys       []bspPoly
}

func bspOf(m *Mesh, o Vec) *bspNode {
	var ps []bspPoly
	for i := range m.Tris {
		a, b, c := m.Tri(i)
		a, b, c = a.Sub(o), b.Sub(o), c.Sub(o)
		if p := PlaneAt(a, b.Sub(a).Cross(c.Sub(a))); p.N != (Vec{}) {
			ps = append(ps, bspPoly{[]Vec{a, b, c}, p, m.FaceOf(i)})
		}
	}
	n := &bspNode{}
	n.build(ps)
	return n
}

func meshOf(ps []bspPoly, o Vec) *Mesh {
	m := &Mesh{}
	for _, p := range ps {
		n := int32(len(m.Verts))
		for _, v := range p.pts {
			m.Verts = append(m.Verts, v.Add(o))
		}
		for k := int32(2); k < int32(len(p.pts)); k++ {
			m.Tris = append(m.Tris, [3]int32{n, n + k - 1, n + k})
			m.Face = append(m.Face, p.face)
		}
	}
	return m
}

const bspTol = 1e-5

func splitPoly(pl Plane, p bspPoly, cof, cob, front, back *[]bspPoly) {
	kind := 0
	side := make([]float64, len(p.pts))
	for i, v := range p.pts {
		d := pl.Dist(v)
		if d > bspTol {
			kind |= 1
		} else if d < -bspTol {
			kind |= 2
		} else {
			d = 0
		}
		side[i] = d
	}
	switch kind {
	case 0:
		if pl.N.Dot(p.plane.N) > 0 {
			*cof = append(*cof, p)
		} else {
			*cob = append(*cob, p)
		}
	case 1:
		*front = append(*front, p)
	case 2:
		*back = append(*back, p)
	default:
		var f, b []Vec
		for i, v := range p.pts {
			j := (i + 1) % len(p.pts)
			if side[i] >= 0 {
				f = append(f, v)
			}
			if side[i] <= 0 {
				b = append(b, v)
			}
			if side[i]*side[j] < 0 {
				x := v.Lerp(p.pts[j], side[i]/(side[i]-side[j]))
				f, b = append(f, x), append(b, x)
			}
		}
		if len(f) > 2 {
			*front = append(*front, bspPoly{f, p.plane, p.face})
		}
		if len(b) > 2 {
			*back = append(*back, bspPoly{b, p.plane, p.face})
		}
	}
}

func (n *bspNode) build(ps []bspPoly) {
	if len(ps) == 0 {
		return
	}
	if n.plane == nil {
		n.plane = &Plane{ps[0].plane.N, ps[0].plane.D}
	}
	var f, b []bspPoly
	for _, p := range ps {
		splitPoly(*n.plane, p, &n.polys, &n.polys, &f, &b)
	}
	if len(f) > 0 {
		if n.front == nil {
			n.front = &bspNode{}
		}
		n.front.build(f)
	}
	if len(b) > 0 {
		if n.back == nil {
			n.back = &bspNode{}
		}
		n.back.build(b)
	}
}

func (n *bspNode) invert() {
	for i, p := range n.polys {
		r := make([]Vec, len(p.pts))
		for k, v := range p.pts {
			r[len(r)-1-k] = v
		}
		n.polys[i] = bspPoly{r, Plane{p.plane.N.Neg(), -p.plane.D}, p.face}
	}
	if n.plane != nil {
		n.plane = &Plane{n.plane.N.Neg(), -n.plane.D}
	}
	if n.front != nil {
		n.front.invert()
	}
	if n.back != nil {
		n.back.invert()
	}
	n.front, n.back = n.back, n.front
}

func (n *bspNode) clip(ps []bspPoly) []bspPoly {
	if n.plane == nil {
		return ps
	}
	var f, b []bspPoly
	for _, p := range ps {
		splitPoly(*n.plane, p, &f, &b, &f, &b)
	}
	if n.front != nil {
		f = n.front.clip(f)
	}
	if n.back == nil {
		return f
	}
	return append(f, n.back.clip(b)...)
}

func (n *bspNode) clipTo(o *bspNode) {
	n.polys = o.clip(n.polys)
	if n.front != nil {
		n.front.clipTo(o)
	}
	if n.back != nil {
		n.back.clipTo(o)
	}
}

func (n *bspNode) all(out []bspPoly) []bspPoly {
	out = append(out, n.polys...)
	if n.front != nil {
		out = n.front.all(out)
	}
	if n.back != nil {
		out = n.back.all(out)
	}
	return out
}
