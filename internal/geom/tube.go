package geom

import "math"

// Tube is the rod as a mesh with the given number of sides, their corners on the
// round surface, mitred at bends; a tube's hole goes through.
func Tube(r Rod, sides int) *Mesh {
	sides = max(sides, 3)
	path := r.Path
	if len(path) < 2 || !(r.Radius > 0) {
		return &Mesh{}
	}
	m := &Mesh{}
	dir := path[1].Sub(path[0]).Unit()
	x := dir.Perp()
	radii := []float64{r.Radius}
	if r.Inner > 0 {
		radii = append(radii, r.Inner)
	}
	n := int32(sides * len(radii))
	ring := make([]Vec, 0, n)
	for _, rad := range radii {
		for k := range sides {
			s, c := math.Sincos(2 * math.Pi * float64(k) / float64(sides))
			ring = append(ring, path[0].Add(x.Mul(c*rad)).Add(dir.Cross(x).Mul(s*rad)))
		}
	}
	m.Verts = append(m.Verts, ring...)
	for i := 1; i < len(path); i++ {
		d := path[i].Sub(path[i-1]).Unit()
		cut := d
		if i+1 < len(path) {
			cut = d.Add(path[i+1].Sub(path[i]).Unit()).Unit()
		}
		for k, p := range ring {
			t := path[i].Sub(p).Dot(cut) / d.Dot(cut)
			ring[k] = p.Add(d.Mul(t))
		}
		m.Verts = append(m.Verts, ring...)
	}
	for i := range int32(len(path) - 1) {
		for w := range int32(len(radii)) {
			for k := range int32(sides) {
				a := i*n + w*int32(sides) + k
				b := i*n + w*int32(sides) + (k+1)%int32(sides)
				if w == 1 {
					a, b = b, a
				}
				m.Tris = append(m.Tris, [3]int32{a, b, b + n}, [3]int32{a, b + n, a + n})
				m.Face = append(m.Face, 2+w, 2+w)
			}
		}
	}
	var outer []Vec2
	var holes [][]Vec2
	for w, rad := range radii {
		var l []Vec2
		for k := range sides {
			s, c := math.Sincos(2 * math.Pi * float64(k) / float64(sides))
			l = append(l, Vec2{c * rad, s * rad})
		}
		if w == 0 {
			outer = l
		} else {
			holes = append(holes, l)
		}
	}
	last := n * int32(len(path)-1)
	for _, t := range Triangulate(outer, holes) {
		a, b, c := int32(t[0]), int32(t[1]), int32(t[2])
		m.Tris = append(m.Tris, [3]int32{a, c, b}, [3]int32{a + last, b + last, c + last})
		m.Face = append(m.Face, 0, 1)
	}
	return m
}
