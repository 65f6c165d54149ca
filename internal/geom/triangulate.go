package geom

import "slices"

// Triangulate cuts a polygon with holes into triangles, counter-clockwise, whose
// corners are numbered through: outer first, then each hole. The direction in
// which loops run does not matter.
func Triangulate(outer []Vec2, holes [][]Vec2) [][3]int {
	pts := slices.Clone(outer)
	loop := numbers(0, len(outer), loopArea(outer) < 0)
	type hole struct {
		loop []int
		x    float64
	}
	var hs []hole
	for _, h := range holes {
		if len(h) == 0 {
			continue
		}
		l := numbers(len(pts), len(h), loopArea(h) > 0)
		pts = append(pts, h...)
		best := 0
		for i := range l {
			if pts[l[i]].X > pts[l[best]].X {
				best = i
			}
		}
		l = append(l[best:len(l):len(l)], l[:best]...)
		hs = append(hs, hole{l, pts[l[0]].X})
	}
	slices.SortStableFunc(hs, func(a, b hole) int {
		if a.x > b.x {
			return -1
		} else if a.x < b.x {
			return 1
		}
		return 0
	})
	for _, h := range hs {
		loop = bridge(pts, loop, h.loop)
	}
	return earCut(pts, loop)
}

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

// bridge joins a hole to the loop around it at the nearest vertex that sees it.
func bridge(pts []Vec2, loop, hole []int) []int {
	h := pts[hole[0]]
	best := -1
	for i, v := range loop {
		if best >= 0 && pts[v].Dist(h) >= pts[loop[best]].Dist(h) {
			continue
		}
		clear := true
		for j, a := range loop {
			b := loop[(j+1)%len(loop)]
			if a != v && b != v && crosses(h, pts[v], pts[a], pts[b]) {
				clear = false
				break
			}
		}
		if clear {
			best = i
		}
	}
	if best < 0 {
		best = 0
	}
	out := append([]int{}, loop[:best+1]...)
	out = append(out, hole...)
	out = append(out, hole[0])
	return append(out, loop[best:]...)
}

func crosses(a, b, c, d Vec2) bool {
	return orient2d(a, b, c)*orient2d(a, b, d) < 0 && orient2d(c, d, a)*orient2d(c, d, b) < 0
}

func earCut(pts []Vec2, loop []int) [][3]int {
	var out [][3]int
	loop = slices.Clone(loop)
	for len(loop) > 2 {
		n := len(loop)
		cut := -1
		for i := range loop {
			a, b, c := pts[loop[(i+n-1)%n]], pts[loop[i]], pts[loop[(i+1)%n]]
			o := orient2d(a, b, c)
			if o == 0 {
				cut = i
				break
			}
			if o < 0 {
				continue
			}
			ear := true
			for _, v := range loop {
				p := pts[v]
				if p != a && p != b && p != c && orient2d(a, b, p) >= 0 && orient2d(b, c, p) >= 0 && orient2d(c, a, p) >= 0 {
					ear = false
					break
				}
			}
			if ear {
				out = append(out, [3]int{loop[(i+n-1)%n], loop[i], loop[(i+1)%n]})
				cut = i
				break
			}
		}
		if cut < 0 {
			cut = 0
		}
		loop = slices.Delete(loop, cut, cut+1)
	}
	return out
}

// TriangulateLoop3 is Triangulate for a face in space that need not be quite
// flat. The triangles run as the outer loop does.
func TriangulateLoop3(outer []Vec, holes [][]Vec) [][3]int {
	n := NewellNormal(outer)
	if len(outer) == 0 || n.Unit() == (Vec{}) {
		return nil
	}
	f := FrameZX(outer[0], n, n.Perp())
	flat := func(l []Vec) []Vec2 {
		out := make([]Vec2, len(l))
		for i, v := range l {
			q := f.Local(v)
			out[i] = Vec2{q.X, q.Y}
		}
		return out
	}
	hs := make([][]Vec2, len(holes))
	for i, h := range holes {
		hs[i] = flat(h)
	}
	return Triangulate(flat(outer), hs)
}
