package geom

import "math"

// orient2d is positive when a, b, c run counter-clockwise, negative when
// clockwise, and zero only when they are exactly on one line. The sign is exact;
// the size is twice the area, rounded.
func orient2d(a, b, c Vec2) float64 {
	l := (a.X - c.X) * (b.Y - c.Y)
	r := (a.Y - c.Y) * (b.X - c.X)
	det := l - r
	if bound := (math.Abs(l) + math.Abs(r)) * 4e-16; det > bound || -det > bound {
		return det
	}
	var e expansion
	e.addProduct(a.X, b.Y, 1)
	e.addProduct(a.X, c.Y, -1)
	e.addProduct(c.X, b.Y, -1)
	e.addProduct(a.Y, b.X, -1)
	e.addProduct(a.Y, c.X, 1)
	e.addProduct(c.Y, b.X, 1)
	return e.estimate()
}

// orient3d is positive when d lies below the plane through a, b, c, that is, on
// the side from which they run clockwise; negative above; zero only when the
// four are exactly in one plane. The sign is exact; the size is six times the
// volume, rounded.
func orient3d(a, b, c, d Vec) float64 {
	u, v, w := a.Sub(d), b.Sub(d), c.Sub(d)
	x, y := v.Y*w.Z-v.Z*w.Y, u.Z*w.Y-u.Y*w.Z
	z := u.Y*v.Z - u.Z*v.Y
	det := u.X*x + v.X*y + w.X*z
	size := math.Abs(u.X)*(math.Abs(v.Y*w.Z)+math.Abs(v.Z*w.Y)) +
		math.Abs(v.X)*(math.Abs(u.Z*w.Y)+math.Abs(u.Y*w.Z)) +
		math.Abs(w.X)*(math.Abs(u.Y*v.Z)+math.Abs(u.Z*v.Y))
	if bound := size * 1e-15; det > bound || -det > bound {
		return det
	}
	var e expansion
	e.addMinor(a, b, c, 1)
	e.addMinor(a, b, d, -1)
	e.addMinor(a, c, d, 1)
	e.addMinor(b, c, d, -1)
	return e.estimate()
}

// expansion is an exact sum of floats, kept as parts that do not overlap, in
// rising order (Shewchuk, Adaptive precision floating-point arithmetic and fast
// robust geometric predicates, 1997). It is exact while no product overflows or
// loses bits below the smallest float.
type expansion struct {
	n    int
	part [192]float64
}

// add adds x.
func (e *expansion) add(x float64) {
	k := 0
	for i := range e.n {
		sum, err := twoSum(x, e.part[i])
		if err != 0 {
			e.part[k] = err
			k++
		}
		x = sum
	}
	if x != 0 {
		e.part[k] = x
		k++
	}
	e.n = k
}

// addProduct adds s*a*b, s being 1 or -1.
func (e *expansion) addProduct(a, b, s float64) {
	hi, lo := twoProduct(a, b)
	e.add(s * lo)
	e.add(s * hi)
}

// addProduct3 adds s*a*b*c, s being 1 or -1.
func (e *expansion) addProduct3(a, b, c, s float64) {
	hi, lo := twoProduct(a, b)
	e.addProduct(lo, c, s)
	e.addProduct(hi, c, s)
}

// addMinor adds s times the determinant of the rows a, b, c.
func (e *expansion) addMinor(a, b, c Vec, s float64) {
	e.addProduct3(a.X, b.Y, c.Z, s)
	e.addProduct3(a.X, b.Z, c.Y, -s)
	e.addProduct3(a.Y, b.Z, c.X, s)
	e.addProduct3(a.Y, b.X, c.Z, -s)
	e.addProduct3(a.Z, b.X, c.Y, s)
	e.addProduct3(a.Z, b.Y, c.X, -s)
}

// estimate is the largest part: it has the sign of the sum.
func (e *expansion) estimate() float64 {
	if e.n == 0 {
		return 0
	}
	return e.part[e.n-1]
}

func twoSum(a, b float64) (sum, err float64) {
	sum = a + b
	bb := sum - a
	return sum, (a - (sum - bb)) + (b - bb)
}

func twoProduct(a, b float64) (hi, lo float64) {
	hi = a * b
	return hi, math.FMA(a, b, -hi)
}

// cross2 is a.X*b.Y - a.Y*b.X with an exact sign.
func cross2(a, b Vec2) float64 {
	l, r := a.X*b.Y, a.Y*b.X
	det := l - r
	if bound := (math.Abs(l) + math.Abs(r)) * 4e-16; det > bound || -det > bound {
		return det
	}
	var e expansion
	e.addProduct(a.X, b.Y, 1)
	e.addProduct(a.Y, b.X, -1)
	return e.estimate()
}
