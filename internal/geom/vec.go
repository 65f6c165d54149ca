package geom

import "math"

// Vec is a point or a direction in space.
type Vec struct{ X, Y, Z float64 }

// V makes a Vec.
func V(x, y, z float64) Vec { return Vec{x, y, z} }

func (a Vec) Add(b Vec) Vec             { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) Sub(b Vec) Vec             { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) Mul(s float64) Vec         { return Vec{a.X * s, a.Y * s, a.Z * s} }
func (a Vec) Neg() Vec                  { return Vec{-a.X, -a.Y, -a.Z} }
func (a Vec) Dot(b Vec) float64         { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) Norm2() float64            { return a.Dot(a) }
func (a Vec) Norm() float64             { return math.Sqrt(a.Dot(a)) }
func (a Vec) Dist(b Vec) float64        { return a.Sub(b).Norm() }
func (a Vec) Lerp(b Vec, t float64) Vec { return a.Add(b.Sub(a).Mul(t)) }

// Cross is the vector product a x b.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Unit is a scaled to length 1; the zero vector, and one with a length that
// is not finite, gives the zero vector.
func (a Vec) Unit() Vec {
	n := a.Norm()
	if n == 0 || math.IsInf(n, 0) || math.IsNaN(n) {
		return Vec{}
	}
	return a.Mul(1 / n)
}

// Finite reports whether no coordinate is NaN or infinite.
func (a Vec) Finite() bool {
	s := a.X + a.Y + a.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}

// Perp is a unit vector at a right angle to a, the same one each time.
func (a Vec) Perp() Vec {
	ax, ay, az := math.Abs(a.X), math.Abs(a.Y), math.Abs(a.Z)
	switch {
	case ax <= ay && ax <= az:
		return a.Cross(Vec{1, 0, 0}).Unit()
	case ay <= az:
		return a.Cross(Vec{0, 1, 0}).Unit()
	}
	return a.Cross(Vec{0, 0, 1}).Unit()
}

// Vec2 is a point or a direction in a plane.
type Vec2 struct{ X, Y float64 }

func (a Vec2) Add(b Vec2) Vec2      { return Vec2{a.X + b.X, a.Y + b.Y} }
func (a Vec2) Sub(b Vec2) Vec2      { return Vec2{a.X - b.X, a.Y - b.Y} }
func (a Vec2) Mul(s float64) Vec2   { return Vec2{a.X * s, a.Y * s} }
func (a Vec2) Dot(b Vec2) float64   { return a.X*b.X + a.Y*b.Y }
func (a Vec2) Cross(b Vec2) float64 { return a.X*b.Y - a.Y*b.X }
func (a Vec2) Norm() float64        { return math.Hypot(a.X, a.Y) }
func (a Vec2) Dist(b Vec2) float64  { return a.Sub(b).Norm() }
