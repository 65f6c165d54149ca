package setout

import (
	"math"
	"strings"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// surroundings finds the hosts beside a place.
type surroundings struct {
	hosts []*model.Host
	tree  *geom.BoxTree
}

func newSurroundings(hosts []*model.Host) *surroundings {
	s := &surroundings{}
	var boxes []geom.Box
	for _, h := range hosts {
		if !h.Box.Empty() && h.Box.Min.Finite() && h.Box.Max.Finite() {
			s.hosts = append(s.hosts, h)
			boxes = append(boxes, h.Box)
		}
	}
	s.tree = geom.NewBoxTree(boxes)
	return s
}

// lookFar is how far, in mm, other hosts are looked for on both sides of a wall.
const lookFar = 30000

// lookOut is the side of a plate that stands that looks out of the building: no
// other host stands before it, or all at least twice as far as behind it; zero
// where that is not clear, or the model says that the wall is inside.
func (l *layer) lookOut(near *surroundings) geom.Vec {
	for _, p := range [2]string{"Pset_WallCommon.IsExternal", "IsExternal"} {
		if v, ok := l.property(p); ok && (strings.EqualFold(v, "false") || v == ".F.") {
			return geom.Vec{}
		}
	}
	if len(l.faces) != 2 || math.Abs(l.faces[0].Z) > 0.3 {
		return geom.Vec{}
	}
	a, b := near.nearest(l.h, l.faces[0]), near.nearest(l.h, l.faces[1])
	const clearly = 2
	switch {
	case a < lookFar && b >= clearly*max(a, 1):
		return l.faces[1]
	case b < lookFar && a >= clearly*max(b, 1):
		return l.faces[0]
	}
	return geom.Vec{}
}

// nearest is the clear distance in mm from a host along a direction to the next
// one that stands before the middle part of its face; infinite where none does.
func (s *surroundings) nearest(h *model.Host, n geom.Vec) float64 {
	f := geom.FrameZX(geom.Vec{}, n, geom.V(0, 0, 1))
	own := h.Box.Center()
	lo, hi := extent(h.Body, f.X)
	side, side2 := extent(h.Body, f.Y)
	_, out := extent(h.Body, n)
	const middle = 0.3 // of the face, to either side of its centre
	mid, mid2 := (lo+hi)/2, (side+side2)/2
	half, half2 := middle*(hi-lo), middle*(side2-side)
	best := math.Inf(1)
	reach := geom.BoxOf(own, own.Add(n.Mul(lookFar))).Grow(max(half, half2))
	s.tree.Query(reach, func(i int) bool {
		o := s.hosts[i]
		if o == h {
			return true
		}
		x := [3][2]float64{}
		for k, d := range [3]geom.Vec{f.X, f.Y, n} {
			x[k] = [2]float64{math.Inf(1), math.Inf(-1)}
			for _, c := range o.Box.Corners() {
				t := c.Dot(d)
				x[k] = [2]float64{min(x[k][0], t), max(x[k][1], t)}
			}
		}
		if x[0][0] < mid+half && x[0][1] > mid-half && x[1][0] < mid2+half2 && x[1][1] > mid2-half2 && x[2][1] > out+1 {
			best = min(best, max(x[2][0]-out, 0))
		}
		return true
	})
	return best
}
