package rod_test

import (
	"fmt"
	"math"

	"embedcheck/internal/geom"
	"embedcheck/internal/rod"
)

// An L bolt of 20 mm: 300 mm straight, a bend of 40 mm, a leg of 60 mm. It bears
// on the top of its hook, one radius above the axis of the leg.
func ExampleFromRod() {
	path := []geom.Vec{{Z: 0}, {Z: -300}}
	for deg := 15.0; deg <= 90; deg += 15 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		path = append(path, geom.V(40-40*cos, 0, -300-40*sin))
	}
	path = append(path, geom.V(100, 0, -340))

	m := rod.FromRod(geom.Rod{Path: path, Radius: 10})[0]
	bearing, _ := m.Bearing(50)
	fmt.Printf("straight %.0f, bears at %.0f, deepest %.0f, leg %.0f\n",
		m.Length(), bearing, m.Hook.Deepest, m.Hook.Leg)
	// Output: straight 300, bears at 330, deepest 350, leg 60
}
