package ifcbuild

func (b *Builder) point(p Vec) uint64 {
	if p == (Vec{}) && b.origin != 0 {
		return b.origin
	}
	id := b.inst("IFCCARTESIANPOINT")
	b.coordinates(p)
	b.end()
	return id
}

func (b *Builder) coordinates(p Vec) {
	b.line.open("")
	b.length(p.X)
	b.length(p.Y)
	b.length(p.Z)
	b.line.close()
}

func (b *Builder) point2(p XY) uint64 {
	id := b.inst("IFCCARTESIANPOINT")
	b.line.open("")
	b.length(p.X)
	b.length(p.Y)
	b.line.close()
	b.end()
	return id
}

// direction writes a direction once: models have few of them.
func (b *Builder) direction(d Vec) uint64 {
	const enough = 1 << 14
	d = d.Unit()
	if id, ok := b.dirs[d]; ok {
		return id
	}
	id := b.inst("IFCDIRECTION")
	b.line.open("")
	b.line.real(d.X, 15)
	b.line.real(d.Y, 15)
	b.line.real(d.Z, 15)
	b.line.close()
	b.end()
	if len(b.dirs) < enough {
		b.dirs[d] = id
	}
	return id
}

// axis3 writes the placement of a frame. Axes as those of the surroundings are
// left out, as the standard allows only for both of them together.
func (b *Builder) axis3(f Frame) uint64 {
	f = f.solid()
	straight := f.X == V(1, 0, 0) && f.Z == V(0, 0, 1)
	if straight && f.O == (Vec{}) && b.upright != 0 {
		return b.upright
	}
	o := b.point(f.O)
	var z, x uint64
	if !straight {
		z, x = b.direction(f.Z), b.direction(f.X)
	}
	id := b.inst("IFCAXIS2PLACEMENT3D")
	b.line.ref(o)
	b.line.ref(z)
	b.line.ref(x)
	b.end()
	return id
}

// placement writes a local placement relative to another one, 0 for the world.
func (b *Builder) placement(rel uint64, f Frame) uint64 {
	at := b.axis3(f)
	id := b.inst("IFCLOCALPLACEMENT")
	b.line.ref(rel)
	b.line.ref(at)
	b.end()
	return id
}

// Op is the transformation of a mapped item: scale and axes, then a shift. Axes
// left zero are those of the surroundings. A Y that points away from Z x X
// mirrors. Scale 0 means 1; Scale2 and Scale3 are for scales that differ.
type Op struct {
	O, X, Y, Z            Vec
	Scale, Scale2, Scale3 float64
}

// To is the transformation that puts something into a frame.
func To(f Frame) Op {
	f = f.solid()
	return Op{O: f.O, X: f.X, Y: f.Y, Z: f.Z}
}

// Mirrored turns the direction of the y axis round.
func (o Op) Mirrored() Op {
	f := o.frame()
	o.X, o.Y, o.Z = f.X, f.Y.Mul(-1), f.Z
	return o
}

// frame has the axes of the operation, which need not be right-handed.
func (o Op) frame() Frame {
	f := At(o.O.X, o.O.Y, o.O.Z)
	if o.X != (Vec{}) {
		f.X = o.X.Unit()
	}
	if o.Y != (Vec{}) {
		f.Y = o.Y.Unit()
	}
	if o.Z != (Vec{}) {
		f.Z = o.Z.Unit()
	}
	return f
}

// scales are the factors of the three axes.
func (o Op) scales() [3]float64 {
	s := [3]float64{1, 1, 1}
	if o.Scale != 0 {
		s = [3]float64{o.Scale, o.Scale, o.Scale}
	}
	if o.Scale2 != 0 {
		s[1] = o.Scale2
	}
	if o.Scale3 != 0 {
		s[2] = o.Scale3
	}
	return s
}

// Apply maps a point as a mapped item does.
func (o Op) Apply(p Vec) Vec {
	f, s := o.frame(), o.scales()
	return f.O.Add(f.X.Mul(s[0] * p.X)).Add(f.Y.Mul(s[1] * p.Y)).Add(f.Z.Mul(s[2] * p.Z))
}

// operator writes the transformation.
func (b *Builder) operator(o Op) uint64 {
	axis := func(d, same Vec) uint64 {
		if d == (Vec{}) || d == same {
			return 0
		}
		return b.direction(d)
	}
	x, y, z := axis(o.X, V(1, 0, 0)), axis(o.Y, V(0, 1, 0)), axis(o.Z, V(0, 0, 1))
	if x|y|z != 0 { // one axis alone is not read alike by all
		f := o.frame()
		x, y, z = b.direction(f.X), b.direction(f.Y), b.direction(f.Z)
	}
	at := b.point(o.O)
	keyword := "IFCCARTESIANTRANSFORMATIONOPERATOR3D"
	if o.Scale2 != 0 || o.Scale3 != 0 {
		keyword += "NONUNIFORM"
	}
	id := b.inst(keyword)
	b.line.ref(x)
	b.line.ref(y)
	b.line.ref(at)
	b.scale(o.Scale)
	b.line.ref(z)
	if o.Scale2 != 0 || o.Scale3 != 0 {
		b.scale(o.Scale2)
		b.scale(o.Scale3)
	}
	b.end()
	return id
}

func (b *Builder) scale(s float64) {
	if s == 0 {
		b.line.raw("$")
		return
	}
	b.line.real(s, 12)
}
