package rules

import (
	"fmt"
	"math/rand/v2"

	"embedcheck/internal/geom"
)

// crowded is a long wall with many bolts in pairs, and bars in both directions
// at random places of it, each with a mark of its own.
func crowded(bolts, bars int) *scene {
	rnd := rand.New(rand.NewPCG(1, uint64(bolts)))
	s := newScene(placements["turned in plan"])
	length := 500 * float64(bolts+1)
	w := s.host("IfcWall", "W", boxMesh(geom.V(0, 0, 0), geom.V(length, 200, 2500)))
	for i := range bolts / 2 {
		x := 300 + 1000*float64(i)
		a := s.bolt(w, fmt.Sprint("B", 2*i+1), x, 60+rnd.Float64()*2000)
		b := s.bolt(w, fmt.Sprint("B", 2*i+2), x+90+60*rnd.Float64(), 60+rnd.Float64()*2000)
		if i%2 == 0 {
			s.set(fmt.Sprint("HB-", i+1), a, b)
		}
	}
	for i := range bars {
		if x := rnd.Float64() * length; i%2 == 0 {
			s.bar(fmt.Sprint("V", i), 16, geom.V(x, 40, 20), geom.V(x, 40, 2480))
		} else {
			z := rnd.Float64() * 2500
			s.bar(fmt.Sprint("H", i), 12, geom.V(x, 160, z), geom.V(x+700, 160, z))
		}
	}
	return s
}
