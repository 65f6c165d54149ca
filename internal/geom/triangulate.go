package geom

import (
	"math"
	"slices"
)

// Triangulate cuts a polygon with holes into triangles that run
// counter-clockwise. Corners are numbered through: outer first, then each hole.
// The direction in which loops run does not matter.
//
// Every side of the polygon is the side of a triangle, also between points on
// one line, so that faces that share sides stay joined. Points may be repeated,
// and loops may touch themselves, each other and the outer loop. Triangles
// without area come out only where the polygon has none. A polygon that crosses
// itself gives triangles that cover some of it, or none where that takes too long.
func Triangulate(outer []Vec2, holes [][]Vec2) [][3]int {
	if len(outer) < 3 {
		return nil
	}
	pts := slices.Clone(outer)
	loop := numbers(0, len(outer), loopArea(outer) < 0)
	if len(holes) > 0 {
		b := bridger{pts: pts, loop: loop}
		if b.addHoles(holes); b.work > maxWork {
			return nil
		}
		pts, loop = b.pts, b.loop
	}
	tris := cutEars(pts, loop)
	if len(holes) > 0 || !onCircle(pts) { // else no diagonal is better than another
		improve(pts, tris)
	}
	return tris
}

// onCircle reports whether corners lie on a circle around their middle.
func onCircle(pts []Vec2) bool {
	var c Vec2
	for _, p := range pts {
		c = c.Add(p)
	}
	c = c.Mul(1 / float64(len(pts)))
	r := pts[0].Dist(c)
	for _, p := range pts {
		if !(math.Abs(p.Dist(c)-r) < 1e-9*r) {
			return false
		}
	}
	return true
}

// numbers is from, from+1, ... n of them, or the same backwards.
func numbers(from, n int, reverse bool) []int {
	l := make([]int, n)
	for i := range l {
		l[i] = from + i
		if reverse {
			l[i] = from + n - 1 - i
		}
	}
	return l
}

// TriangulateLoop3 is Triangulate for a face in space that need not be quite
// flat. The triangles run as the outer loop does.
func TriangulateLoop3(outer []Vec, holes [][]Vec) [][3]int {
	n := NewellNormal(outer).Unit()
	if n == (Vec{}) {
		return nil
	}
	f := FrameZX(outer[0], n, n.Perp())
	flat := make([][]Vec2, len(holes))
	for i, h := range holes {
		flat[i] = flatten(f, h)
	}
	return Triangulate(flatten(f, outer), flat)
}

// flatten is the loop as seen along f's z axis.
func flatten(f Affine, loop []Vec) []Vec2 {
	out := make([]Vec2, len(loop))
	for i, v := range loop {
		q := f.Local(v)
		out[i] = Vec2{q.X, q.Y}
	}
	return out
}
