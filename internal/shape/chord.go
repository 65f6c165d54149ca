package shape

import "math"

// Chord tolerances in mm: how far a straight piece may lie inside the arc that
// it stands for. Bars are measured to each other, so their paths are finer.
const (
	bodyTol = 0.05
	pathTol = 0.02
)

// A full circle has at least minSides straight pieces; a circle, and an arc
// however short, has at most maxSides.
const (
	minSides = 24
	maxSides = 256
)

// joinTol is the gap in mm between the ends of two pieces of a curve, or the
// two ends of a closed one, that is taken as rounding of the file.
const joinTol = 0.01

// sides is the number of straight pieces of a full circle. It divides by four,
// so that the polygon is as wide and as high as the circle.
func sides(radius, tol float64) int {
	n := min(max(2*math.Pi/stepAngle(radius, tol), minSides), maxSides)
	return (int(math.Ceil(n-1e-9)) + 3) / 4 * 4
}

// stepAngle is the angle of a chord that lies tol inside its arc.
func stepAngle(radius, tol float64) float64 {
	if radius <= tol {
		return math.Pi
	}
	return 2 * math.Acos(1-tol/radius)
}

// arcSteps is the number of straight pieces of an arc that turns by sweep.
func arcSteps(radius, sweep, tol float64) int {
	sweep = math.Abs(sweep)
	if sweep > 2*math.Pi-1e-9 {
		return sides(radius, tol)
	}
	step := min(stepAngle(radius, tol), 2*math.Pi/minSides)
	return min(max(int(math.Ceil(sweep/step-1e-6)), 1), maxSides)
}
