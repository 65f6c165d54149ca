package measure

import (
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Surroundings finds the hosts beside a place. It may be asked from several sides
// at once.
type Surroundings struct {
	hosts []*model.Host
	tree  *geom.BoxTree
}

// NewSurroundings indexes hosts; those without a finite box are left out.
func NewSurroundings(hosts []*model.Host) *Surroundings {
	s := &Surroundings{}
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

// clear is the clear distance in mm from a host along a direction to the next
// one that stands before the middle part of its face; infinite where none does.
func (s *Surroundings) clear(h *model.Host, n geom.Vec) float64 {
	f := geom.FrameZX(geom.Vec{}, n, geom.V(0, 0, 1))
	own := h.Box.Center()
	lo, hi := Reach(h.Body, f.X)
	side, side2 := Reach(h.Body, f.Y)
	_, out := Reach(h.Body, n)
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
