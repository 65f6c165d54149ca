package shape

import (
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"iter"
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// This file makes a closed mesh from the faces of a boundary representation:
// equal points become one, gaps within a tolerance are closed, and faces that
// run the wrong way round are turned.

// shell is a body given by its faces. Points are local mm.
type shell struct {
	points []geom.Vec
	faces  []face
}

// face is a polygon with holes, or a piece of a curved surface; its loops hold
// indices of points, the outer one first. cavity says that the file calls the
// face's shell a void.
type face struct {
	loops  [][]int32
	cavity bool
	label  int32   // faces with one label, other than 0, are pieces of one curved face
	curved surface // nil for a flat face
	// forward says of a curved face that its loops run counter-clockwise seen
	// from where its surface's normal points
	forward bool
	flip    bool
}

// weldTols are the distances in mm under which points are one, tried in turn:
// first only equal points, then rounding, then the coarse rounding of files
// that state metres with four digits.
var weldTols = [...]float64{0, 1e-3, 0.1}

// mesh is the closed mesh of the shell. The error says what keeps it open.
func (s *shell) mesh() (*geom.Mesh, error) {
	p, err := s.prepared()
	if err != nil {
		return nil, err
	}
	return p.mesh()
}

// prepared is a shell whose faces close and agree; what is left to do is to cut
// them into triangles.
type prepared struct {
	shell *shell
	group []int32 // body of each face
}

func (p *prepared) mesh() (*geom.Mesh, error) {
	return p.shell.triangulated(p.group, p.shell.flatGroups(p.shell.uses()))
}

// prepared joins points and faces; the error says what keeps the shell open.
func (s *shell) prepared() (*prepared, error) {
	for _, p := range s.points {
		if !p.Finite() {
			return nil, errors.New("a point has no finite coordinates")
		}
	}
	var first error
	for _, tol := range weldTols {
		p, err := s.welded(tol).sealed(max(tol, 1e-3))
		if err == nil {
			return p, nil
		}
		if first == nil {
			first = err
		}
	}
	return nil, first
}

// welded is a copy of s in which points within tol are one and faces without an
// area are left out.
func (s *shell) welded(tol float64) *shell {
	to := weld(s.points, tol)
	w := &shell{points: s.points, faces: make([]face, 0, len(s.faces))}
	loops, corners := 0, 0
	for i := range s.faces {
		loops += len(s.faces[i].loops)
		for _, l := range s.faces[i].loops {
			corners += len(l)
		}
	}
	// two blocks instead of two small ones for each face
	lists, indices := make([][]int32, 0, loops), make([]int32, 0, corners)
	for _, f := range s.faces {
		g := f
		from := len(lists)
		for i, l := range f.loops {
			start := len(indices)
			for _, v := range l {
				if v = to[v]; len(indices) == start || indices[len(indices)-1] != v {
					indices = append(indices, v)
				}
			}
			for len(indices) > start+1 && indices[start] == indices[len(indices)-1] {
				indices = indices[:len(indices)-1]
			}
			if m := dropSpikes(indices[start:len(indices):len(indices)]); len(m) >= 3 {
				lists = append(lists, m)
			} else if i == 0 {
				break
			}
		}
		if g.loops = lists[from:len(lists):len(lists)]; len(g.loops) > 0 {
			w.add(g)
		}
	}
	return w
}

// dropSpikes takes out places where a loop goes to a point and straight back.
func dropSpikes(l []int32) []int32 {
	for i := 0; len(l) >= 3 && i < len(l); {
		n := len(l)
		if l[i] != l[(i+2)%n] {
			i++
			continue
		}
		a, b := (i+1)%n, (i+2)%n
		l = slices.Delete(l, max(a, b), max(a, b)+1)
		l = slices.Delete(l, min(a, b), min(a, b)+1)
		i = 0
	}
	return l
}

// weld gives for each point the index of the point that stands for it.
func weld(pts []geom.Vec, tol float64) []int32 {
	to := make([]int32, len(pts))
	if tol == 0 {
		seen := make(map[geom.Vec]int32, len(pts))
		for i, p := range pts {
			if j, ok := seen[p]; ok {
				to[i] = j
			} else {
				seen[p], to[i] = int32(i), int32(i)
			}
		}
		return to
	}
	type cell [3]int64
	grid := make(map[cell][]int32, len(pts))
	at := func(p geom.Vec) cell {
		return cell{int64(math.Floor(p.X / tol)), int64(math.Floor(p.Y / tol)), int64(math.Floor(p.Z / tol))}
	}
	for i, p := range pts {
		to[i] = int32(i)
		c := at(p)
	search:
		for n := range 27 {
			d := cell{c[0] + int64(n%3) - 1, c[1] + int64(n/3%3) - 1, c[2] + int64(n/9) - 1}
			for _, j := range grid[d] {
				if pts[j].Dist(p) <= tol {
					to[i] = j
					break search
				}
			}
		}
		if to[i] == int32(i) {
			grid[c] = append(grid[c], int32(i))
		}
	}
	return to
}

// side is an edge of a face, from a lower to a higher point index.
type side struct{ a, b int32 }

// use is a side as a face has it: forward when the face runs from the lower to
// the higher point.
type use struct {
	side
	face    int32
	forward bool
}

// uses are the sides of all faces, those of one side next to each other.
func (s *shell) uses() []use {
	n := 0
	for i := range s.faces {
		for _, l := range s.faces[i].loops {
			n += len(l)
		}
	}
	out := make([]use, 0, n)
	for i := range s.faces {
		for _, l := range s.faces[i].loops {
			for k, a := range l {
				b := l[(k+1)%len(l)]
				out = append(out, use{side{min(a, b), max(a, b)}, int32(i), a < b})
			}
		}
	}
	slices.SortFunc(out, func(p, q use) int {
		if p.a != q.a {
			return int(p.a - q.a)
		}
		if p.b != q.b {
			return int(p.b - q.b)
		}
		return int(p.face - q.face)
	})
	return out
}

// bySide visits the uses of each side.
func bySide(uses []use) iter.Seq[[]use] {
	return func(yield func([]use) bool) {
		for i := 0; i < len(uses); {
			k := i + 1
			for k < len(uses) && uses[k].side == uses[i].side {
				k++
			}
			if !yield(uses[i:k]) {
				return
			}
			i = k
		}
	}
}

// sealed makes a welded shell closed: points within tol of a free side are put
// into it.
func (s *shell) sealed(tol float64) (*prepared, error) {
	if len(s.faces) == 0 {
		return nil, errors.New("none of its faces has an area")
	}
	uses := s.uses()
	open := openSides(uses)
	for _, repair := range [...]func([]side, float64) bool{s.dropDoubles, s.splitAt} {
		if len(open) > 0 && repair(open, tol) {
			uses = s.uses()
			open = openSides(uses)
		}
	}
	if len(open) > 0 {
		p := s.points[open[0].a].Lerp(s.points[open[0].b], 0.5)
		return nil, fmt.Errorf("the faces do not close: %d free edges, one of them near (%.1f, %.1f, %.1f) mm of its own coordinates", len(open), p.X, p.Y, p.Z)
	}
	group, err := s.orient(uses)
	if err != nil {
		return nil, err
	}
	return &prepared{s, group}, nil
}

// openSides are the sides used an odd number of times.
func openSides(uses []use) []side {
	var open []side
	for u := range bySide(uses) {
		if len(u)%2 != 0 {
			open = append(open, u[0].side)
		}
	}
	return open
}

// dropDoubles leaves out faces that are there twice, and reports whether there
// were any.
func (s *shell) dropDoubles([]side, float64) bool {
	seen := make(map[string]bool, len(s.faces))
	var key []byte
	n := len(s.faces)
	s.faces = slices.DeleteFunc(s.faces, func(f face) bool {
		l := f.loops[0]
		from := slices.Index(l, slices.Min(l))
		key = key[:0]
		for i := range l {
			key = binary.AppendVarint(key, int64(l[(from+i)%len(l)]))
		}
		double := seen[string(key)]
		seen[string(key)] = true
		return double
	})
	return len(s.faces) < n
}

// splitAt puts points of open sides that lie on other open sides into the
// faces of those, and reports whether there were any.
func (s *shell) splitAt(open []side, tol float64) bool {
	ends := make([]int32, 0, 2*len(open))
	for _, e := range open {
		ends = append(ends, e.a, e.b)
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	slices.SortFunc(ends, func(a, b int32) int {
		return cmp.Compare(s.points[a].X, s.points[b].X)
	})
	xs := make([]float64, len(ends))
	for i, v := range ends {
		xs[i] = s.points[v].X
	}
	on := map[side][]int32{}
	for _, e := range open {
		a, b := s.points[e.a], s.points[e.b]
		i, _ := slices.BinarySearch(xs, min(a.X, b.X)-tol)
		for ; i < len(ends) && xs[i] <= max(a.X, b.X)+tol; i++ {
			v := ends[i]
			if v != e.a && v != e.b && distToSegment(s.points[v], a, b) <= tol {
				on[e] = append(on[e], v)
			}
		}
		slices.SortFunc(on[e], func(p, q int32) int {
			return cmp.Compare(s.points[p].Sub(a).Norm2(), s.points[q].Sub(a).Norm2())
		})
	}
	if len(on) == 0 {
		return false
	}
	for i := range s.faces {
		for k, l := range s.faces[i].loops {
			s.faces[i].loops[k] = split(l, on)
		}
	}
	return true
}

func split(l []int32, on map[side][]int32) []int32 {
	var out []int32
	for k, a := range l {
		b := l[(k+1)%len(l)]
		out = append(out, a)
		if a < b {
			out = append(out, on[side{a, b}]...)
		} else {
			mid := on[side{b, a}]
			for i := len(mid) - 1; i >= 0; i-- {
				out = append(out, mid[i])
			}
		}
	}
	return out
}
