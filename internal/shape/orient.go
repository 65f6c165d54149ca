package shape

import (
	"errors"
	"math"

	"embedcheck/internal/geom"
)

// orient turns faces so that neighbours agree, and whole bodies so that they
// face outwards. Cavities inside another body face into themselves.
func (s *shell) orient(sides map[side][]use) error {
	group := s.flood(sides)
	for i := range s.faces {
		s.faces[i].turn()
	}
	for _, u := range s.sides() {
		n := 0
		for _, v := range u {
			if v.forward {
				n++
			}
		}
		if 2*n != len(u) {
			return errors.New("the faces cannot be turned to one side: the surface is not that of a body")
		}
	}
	return s.outwards(group)
}

// turn reverses the loops of a face that is marked so.
func (f *face) turn() {
	if !f.flip {
		return
	}
	f.flip = false
	for _, l := range f.loops {
		for i, j := 0, len(l)-1; i < j; i, j = i+1, j-1 {
			l[i], l[j] = l[j], l[i]
		}
	}
}

// flood marks faces to be turned so that two faces on one side run along it in
// opposite directions, and numbers the connected bodies.
func (s *shell) flood(sides map[side][]use) (group []int32) {
	group = make([]int32, len(s.faces))
	for i := range group {
		group[i] = -1
	}
	var n int32
	var todo []int32
	for i := range s.faces {
		if group[i] >= 0 {
			continue
		}
		group[i] = n
		todo = append(todo[:0], int32(i))
		for len(todo) > 0 {
			f := todo[len(todo)-1]
			todo = s.visit(f, sides, group, todo[:len(todo)-1])
		}
		n++
	}
	return group
}

// visit gives the neighbours of face f its group. Sides with more than two uses
// join nothing: bodies that touch there stay apart.
func (s *shell) visit(f int32, sides map[side][]use, group, todo []int32) []int32 {
	for _, l := range s.faces[f].loops {
		for k, a := range l {
			b := l[(k+1)%len(l)]
			u := sides[side{min(a, b), max(a, b)}]
			if len(u) != 2 {
				continue
			}
			o, same := u[0], u[0].forward == u[1].forward
			if o.face == f {
				o = u[1]
			}
			if o.face == f || group[o.face] >= 0 {
				continue
			}
			group[o.face] = group[f]
			s.faces[o.face].flip = s.faces[f].flip != same
			todo = append(todo, o.face)
		}
	}
	return todo
}

// outwards turns bodies so that their volume is positive, and that of cavities
// negative. A body is a cavity when the file says so; and one that already
// faces inwards is left when it lies inside a larger one.
func (s *shell) outwards(group []int32) error {
	bodies := s.bodies(group)
	total := 0.0
	for g := range bodies {
		b := &bodies[g]
		if b.cavity {
			b.flip = b.volume > 0
		} else {
			b.flip = b.volume < 0 && !inLarger(bodies, g)
		}
		if b.flip {
			b.volume = -b.volume
		}
		total += b.volume
	}
	if !(total > minVolume) {
		return errors.New("the body has no volume")
	}
	for i, g := range group {
		s.faces[i].flip = bodies[g].flip
		s.faces[i].turn()
	}
	return nil
}

// minVolume is the volume in mm3 under which there is no body.
const minVolume = 1e-3

// body is one connected part of a shell.
type body struct {
	volume float64 // signed
	box    geom.Box
	cavity bool
	flip   bool
}

func (s *shell) bodies(group []int32) []body {
	var out []body
	o := s.points[s.faces[0].loops[0][0]]
	for i, f := range s.faces {
		for int(group[i]) >= len(out) {
			out = append(out, body{box: geom.EmptyBox})
		}
		b := &out[group[i]]
		b.cavity = b.cavity || f.cavity
		for _, l := range f.loops {
			a := s.points[l[0]].Sub(o)
			for k, v := range l {
				p, q := s.points[v], s.points[l[(k+1)%len(l)]]
				b.box = b.box.Add(p)
				b.volume += a.Dot(p.Sub(o).Cross(q.Sub(o))) / 6
			}
		}
	}
	return out
}

// inLarger reports whether the box of body g lies in that of a larger body.
func inLarger(bodies []body, g int) bool {
	b := bodies[g]
	for h, o := range bodies {
		if h != g && math.Abs(o.volume) > math.Abs(b.volume) && o.box.Has(b.box.Min) && o.box.Has(b.box.Max) {
			return true
		}
	}
	return false
}
