package ifcbuild

import "math"

// Vec is a point or a direction in space, mm.
type Vec struct{ X, Y, Z float64 }

// V makes a Vec.
func V(x, y, z float64) Vec { return Vec{x, y, z} }

func (a Vec) Add(b Vec) Vec             { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a Vec) Sub(b Vec) Vec             { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a Vec) Mul(s float64) Vec         { return Vec{a.X * s, a.Y * s, a.Z * s} }
func (a Vec) Dot(b Vec) float64         { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) Len() float64              { return math.Sqrt(a.Dot(a)) }
func (a Vec) Lerp(b Vec, t float64) Vec { return a.Add(b.Sub(a).Mul(t)) }

// Cross is the vector product a x b.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Unit is a with length 1; the zero vector stays zero.
func (a Vec) Unit() Vec {
	if l := a.Len(); l > 0 {
		return a.Mul(1 / l)
	}
	return a
}

// XY is a point of a profile, mm.
type XY struct{ X, Y float64 }

// Frame is a right-handed system of axes: a placement without scale. The zero
// Frame is the identity.
type Frame struct{ O, X, Y, Z Vec }

// At is a frame with the axes of its surroundings.
func At(x, y, z float64) Frame {
	return Frame{V(x, y, z), V(1, 0, 0), V(0, 1, 0), V(0, 0, 1)}
}

// Facing is the frame at o whose z axis is z, and whose x axis is the part of x
// at a right angle to it.
func Facing(o, z, x Vec) Frame {
	z = z.Unit()
	x = x.Sub(z.Mul(x.Dot(z))).Unit()
	return Frame{o, x, z.Cross(x), z}
}

func (f Frame) solid() Frame {
	if f.Z == (Vec{}) {
		o := f.O
		f = At(o.X, o.Y, o.Z)
	}
	return f
}

// Dir turns a direction of the frame into one of its surroundings.
func (f Frame) Dir(d Vec) Vec {
	f = f.solid()
	return f.X.Mul(d.X).Add(f.Y.Mul(d.Y)).Add(f.Z.Mul(d.Z))
}

// Apply turns a point of the frame into one of its surroundings.
func (f Frame) Apply(p Vec) Vec { return f.Dir(p).Add(f.O) }

// Mul is the frame g, given in f, seen from the surroundings of f.
func (f Frame) Mul(g Frame) Frame {
	g = g.solid()
	return Frame{f.Apply(g.O), f.Dir(g.X), f.Dir(g.Y), f.Dir(g.Z)}
}

// Shift is f moved along its own axes.
func (f Frame) Shift(x, y, z float64) Frame {
	f = f.solid()
	f.O = f.Apply(V(x, y, z))
	return f
}

// TurnX is f turned about its own x axis.
func (f Frame) TurnX(degrees float64) Frame {
	c, s := cosSin(degrees)
	return f.Mul(Frame{X: V(1, 0, 0), Y: V(0, c, s), Z: V(0, -s, c)})
}

// TurnY is f turned about its own y axis.
func (f Frame) TurnY(degrees float64) Frame {
	c, s := cosSin(degrees)
	return f.Mul(Frame{X: V(c, 0, -s), Y: V(0, 1, 0), Z: V(s, 0, c)})
}

// TurnZ is f turned about its own z axis.
func (f Frame) TurnZ(degrees float64) Frame {
	c, s := cosSin(degrees)
	return f.Mul(Frame{X: V(c, s, 0), Y: V(-s, c, 0), Z: V(0, 0, 1)})
}

// cosSin is exact for quarter turns, so that turned models keep whole numbers.
func cosSin(degrees float64) (c, s float64) {
	switch math.Mod(math.Mod(degrees, 360)+360, 360) {
	case 0:
		return 1, 0
	case 90:
		return 0, 1
	case 180:
		return -1, 0
	case 270:
		return 0, -1
	}
	s, c = math.Sincos(degrees * math.Pi / 180)
	return c, s
}
