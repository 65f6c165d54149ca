package geom

import "math"

// Tube is the rod as a mesh with the given number of sides, at least 3. Their
// edges lie on the round surface, so that the mesh lies inside the rod between
// bends; at bends it is mitred. A tube's hole goes through. Face numbers: 0 and
// 1 the ends, 2 the outer surface, 3 the inner one.
func Tube(r Rod, sides int) *Mesh {
	path := distinct(r.Path)
	if len(path) < 2 || !(r.Radius > 0) || math.IsInf(r.Radius, 0) {
		return &Mesh{}
	}
	sides = max(sides, 3)
	radii := []float64{r.Radius}
	if r.Inner > 0 && r.Inner < r.Radius {
		radii = append(radii, r.Inner)
	}
	m := &Mesh{}
	ring := firstRing(path[0], path[1].Sub(path[0]).Unit(), radii, sides)
	m.Verts = append(m.Verts, ring...)
	for i := 1; i < len(path); i++ {
		slideToMitre(ring, path, i)
		m.Verts = append(m.Verts, ring...)
	}
	n, k := int32(len(ring)), int32(sides)
	for i := range int32(len(path) - 1) {
		m.addStrip(i*n, k, n, sameFace(2, sides), false)
		if n > k {
			m.addStrip(i*n+k, k, n, sameFace(3, sides), true)
		}
	}
	tris := ringCap(sides, len(radii) > 1)
	m.addCap(tris, 0, 0, true)
	m.addCap(tris, n*int32(len(path)-1), 1, false)
	return m
}

// samePoint is the distance in mm below which points of a path are one.
const samePoint = 1e-9

// distinct drops points at the place of the one before.
func distinct(path []Vec) []Vec {
	var out []Vec
	for _, p := range path {
		if len(out) == 0 || out[len(out)-1].Dist(p) > samePoint {
			out = append(out, p)
		}
	}
	return out
}

// firstRing is the corners at the start of the path, one circle a radius.
func firstRing(o, dir Vec, radii []float64, sides int) []Vec {
	x := dir.Perp()
	y := dir.Cross(x)
	var ring []Vec
	for _, r := range radii {
		for k := range sides {
			s, c := math.Sincos(2 * math.Pi * float64(k) / float64(sides))
			ring = append(ring, o.Add(x.Mul(c*r)).Add(y.Mul(s*r)))
		}
	}
	return ring
}

// slideToMitre moves the ring along the piece that ends at path point i, into
// the plane there that halves the bend.
func slideToMitre(ring, path []Vec, i int) {
	d := path[i].Sub(path[i-1]).Unit()
	cut := d
	if i+1 < len(path) {
		if c := d.Add(path[i+1].Sub(path[i]).Unit()).Unit(); c.Dot(d) > 1e-3 {
			cut = c
		}
	}
	for k, p := range ring {
		ring[k] = p.Add(d.Mul(path[i].Sub(p).Dot(cut) / d.Dot(cut)))
	}
}

func sameFace(face int32, n int) []int32 {
	f := make([]int32, n)
	for i := range f {
		f[i] = face
	}
	return f
}

// ringCap is the triangles of a tube's end, seen against its direction.
func ringCap(sides int, hollow bool) [][3]int {
	var tris [][3]int
	for k := range sides {
		next := (k + 1) % sides
		if hollow {
			tris = append(tris, [3]int{k, next, next + sides}, [3]int{k, next + sides, k + sides})
		} else if k > 0 && next > 0 {
			tris = append(tris, [3]int{0, k, next})
		}
	}
	return tris
}
