package rewrite

import (
	"fmt"

	ifc "embedcheck/internal/ifcbuild"
)

// Place moves and turns a model by a placement that all others are relative to.
func Place(f ifc.Frame) func(*Text) error {
	return func(t *Text) error {
		axes, err := t.axes(f)
		if err != nil {
			return err
		}
		var roots []*Inst
		t.each(func(in *Inst) {
			if in.Args[0].Word == "$" {
				roots = append(roots, in)
			}
		}, "IFCLOCALPLACEMENT")
		above := t.new("IFCLOCALPLACEMENT", "$", axes)
		for _, in := range roots {
			in.Args[0] = above
		}
		return nil
	}
}

// PlaceWorld moves and turns a model by its world coordinate system, which has
// to be the one at the origin.
func PlaceWorld(f ifc.Frame) func(*Text) error {
	return func(t *Text) (err error) {
		t.each(func(in *Inst) {
			if in.Args[2].Word != "3" {
				return
			}
			var was ifc.Frame
			if was, err = t.frame(in.Args[4]); err == nil && was != ifc.At(0, 0, 0) {
				err = fmt.Errorf("#%d: the world is not at the origin", in.ID)
			}
			if err == nil {
				in.Args[4], err = t.axes(f)
			}
		}, "IFCGEOMETRICREPRESENTATIONCONTEXT")
		return err
	}
}

// Bake moves and turns a model by the numbers of the placements that are relative
// to nothing.
func Bake(f ifc.Frame) func(*Text) error {
	return func(t *Text) (err error) {
		t.each(func(in *Inst) {
			if in.Args[0].Word != "$" || err != nil {
				return
			}
			var was ifc.Frame
			if was, err = t.frame(in.Args[1]); err == nil {
				in.Args[1], err = t.axes(f.Mul(was))
			}
		}, "IFCLOCALPLACEMENT")
		return err
	}
}

// axes adds an axis placement for a frame in mm.
func (t *Text) axes(f ifc.Frame) (Value, error) {
	unit, err := t.unit()
	if err != nil {
		return Value{}, err
	}
	at := t.new("IFCCARTESIANPOINT", []float64{f.O.X / unit, f.O.Y / unit, f.O.Z / unit})
	z := t.new("IFCDIRECTION", []float64{f.Z.X, f.Z.Y, f.Z.Z})
	x := t.new("IFCDIRECTION", []float64{f.X.X, f.X.Y, f.X.Z})
	return t.new("IFCAXIS2PLACEMENT3D", at, z, x), nil
}

// frame is an axis placement in mm.
func (t *Text) frame(v Value) (ifc.Frame, error) {
	in := t.at(v)
	if in == nil || in.Keyword != "IFCAXIS2PLACEMENT3D" {
		return ifc.Frame{}, fmt.Errorf("%s is no placement in space", v)
	}
	unit, err := t.unit()
	if err != nil {
		return ifc.Frame{}, err
	}
	o, err := t.vec(in.Args[0], ifc.Vec{})
	if err != nil {
		return ifc.Frame{}, err
	}
	z, err := t.vec(in.Args[1], ifc.V(0, 0, 1))
	if err != nil {
		return ifc.Frame{}, err
	}
	x, err := t.vec(in.Args[2], ifc.V(1, 0, 0))
	return ifc.Facing(o.Mul(unit), z, x), err
}

// vec is a point or direction, or what stands for one that is not stated.
func (t *Text) vec(v Value, none ifc.Vec) (ifc.Vec, error) {
	in := t.at(v)
	if in == nil {
		return none, nil
	}
	f, err := in.Args[0].floats()
	if err != nil || len(f) != 3 {
		return none, fmt.Errorf("#%d has not three numbers: %v", in.ID, err)
	}
	return ifc.V(f[0], f[1], f[2]), nil
}
