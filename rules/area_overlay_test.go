package rules

import (
	"math"
	"math/rand/v2"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"embedcheck/internal/geom"
)

// overlayArea is the area of the union of squares within an outline and outside
// its holes, by the overlay of a general-purpose geometry library
// (simplefeatures, after the Topology Suite's relate and overlay): nothing in it
// is shared with coveredArea.
func overlayArea(t *testing.T, squares []square, outline [][]geom.Vec2) float64 {
	t.Helper()
	must := func(g sf.Geometry, err error) sf.Geometry {
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	union := sf.Geometry{}
	for i, q := range squares {
		g := polygon(rect(q.at.X-q.half, q.at.Y-q.half, q.at.X+q.half, q.at.Y+q.half))
		if i == 0 {
			union = g
		} else {
			union = must(sf.Union(union, g))
		}
	}
	union = must(sf.Intersection(union, polygon(outline[0])))
	for _, hole := range outline[1:] {
		union = must(sf.Difference(union, polygon(hole)))
	}
	return union.Area()
}

func polygon(loop []geom.Vec2) sf.Geometry {
	var xy []float64
	for i := range len(loop) + 1 {
		v := loop[i%len(loop)]
		xy = append(xy, v.X+0, v.Y+0) // + 0: the library takes -0 for another number than 0
	}
	ring := sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
	return sf.NewPolygon([]sf.LineString{ring}).AsGeometry()
}

// Random squares in random outlines, half of them on whole numbers, so that
// sides meet sides and corners corners; outlines are turned in every third case.
func TestCoveredAreaAgainstAnOverlay(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 17))
	for round := range 600 {
		n := func(lo, hi float64) float64 {
			v := lo + (hi-lo)*rnd.Float64()
			if round%2 == 0 {
				v = math.Round(v)
			}
			return v
		}
		var squares []square
		for range 1 + rnd.IntN(6) {
			squares = append(squares, square{geom.Vec2{X: n(-40, 40), Y: n(-40, 40)}, n(1, 30)})
		}
		outline := [][]geom.Vec2{star(rnd, n), rect(-4, -4, n(-3, 3), n(-3, 3))}
		if round%3 == 0 {
			s, c := math.Sincos(rnd.Float64() * 2 * math.Pi)
			for _, loop := range outline {
				for i, v := range loop {
					loop[i] = geom.Vec2{X: c*v.X - s*v.Y, Y: s*v.X + c*v.Y}
				}
			}
		}
		got, want := coveredArea(squares, outline), overlayArea(t, squares, outline)
		if math.Abs(got-want) > 1e-6*(1+want) {
			t.Fatalf("round %d: squares %v in %v: got %v, overlay %v", round, squares, outline, got, want)
		}
	}
}

// star is a simple loop around the origin that need not be convex and holds a
// square of 8 to each side.
func star(rnd *rand.Rand, n func(lo, hi float64) float64) []geom.Vec2 {
	if rnd.IntN(3) == 0 {
		return rect(-n(8, 50), -n(8, 50), n(8, 50), n(8, 50))
	}
	const corners = 9
	var loop []geom.Vec2
	for i := range corners {
		s, c := math.Sincos(2 * math.Pi * float64(i) / corners)
		r := n(16, 60)
		loop = append(loop, geom.Vec2{X: r * c, Y: r * s})
	}
	return loop
}
