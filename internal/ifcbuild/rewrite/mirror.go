package rewrite

import (
	"fmt"
	"slices"
	"strings"
)

// Mirror mirrors a model in the plane x = 0. IFC has no placement that mirrors:
// every placement P becomes M P M with M = diag(-1, 1, 1), which turns and does
// not mirror, and every point and curve is mirrored where it is drawn. As M P M
// has the x axis -M x, directions that stand for an x axis are mirrored and
// reversed, all others are mirrored.
func Mirror(t *Text) error {
	if err := t.mirrorable(); err != nil {
		return err
	}
	halfTurn, err := t.halfTurn()
	if err != nil {
		return err
	}
	t.mirrorAngles()
	reversed := map[uint64]Value{}
	t.each(func(in *Inst) { reversed[in.ID] = t.new(in.Keyword, in.reversed()) }, "IFCDIRECTION")
	t.each(func(in *Inst) {
		if _, ok := reversed[in.ID]; ok {
			negateX(&in.Args[0])
		}
	}, "IFCDIRECTION")
	t.each(func(in *Inst) { negateX(&in.Args[0]) }, "IFCCARTESIANPOINT")
	t.each(func(in *Inst) {
		for i := range in.Args[0].List {
			negateX(&in.Args[0].List[i])
		}
	}, "IFCCARTESIANPOINTLIST2D", "IFCCARTESIANPOINTLIST3D")
	// A turn about an axis becomes one about the mirrored axis the other way.
	for keyword, arg := range map[string]int{
		"IFCAXIS2PLACEMENT3D": 2, "IFCAXIS2PLACEMENT2D": 1, "IFCAXIS1PLACEMENT": 1,
		"IFCCARTESIANTRANSFORMATIONOPERATOR3D": 0, "IFCCARTESIANTRANSFORMATIONOPERATOR2D": 0,
	} {
		t.each(func(in *Inst) {
			if d := t.at(in.Args[arg]); d != nil {
				in.Args[arg] = reversed[d.ID]
			}
		}, keyword)
	}
	t.mirrorTrims(halfTurn)
	t.turnLoops()
	return nil
}

// mirrorable reports what Mirror does not know.
func (t *Text) mirrorable() error {
	for _, in := range t.Insts {
		if slices.Contains(unmirrored, in.Keyword) {
			return fmt.Errorf("#%d: a mirrored %s cannot be written", in.ID, in.Keyword)
		}
	}
	return nil
}

// unmirrored are shapes with a hand of their own, and those whose parameters the
// mirror would change.
var unmirrored = []string{
	"IFCUSHAPEPROFILEDEF", "IFCCSHAPEPROFILEDEF", "IFCZSHAPEPROFILEDEF", "IFCADVANCEDFACE", "IFCGRIDPLACEMENT", "IFCLINEARPLACEMENT",
	"IFCBSPLINESURFACEWITHKNOTS", "IFCCIRCULARARCSEGMENT2D", "IFCCURVESEGMENT", "IFCSECTIONEDSOLIDHORIZONTAL", "IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM",
}

// reversed is the mirrored and reversed direction.
func (in *Inst) reversed() Value {
	v := Value{IsList: true, List: slices.Clone(in.Args[0].List)}
	for i := range v.List {
		if i > 0 {
			v.List[i] = negated(v.List[i])
		}
	}
	return v
}

func negateX(v *Value) {
	v.List = slices.Clone(v.List)
	v.List[0] = negated(v.List[0])
}

func negated(v Value) Value {
	if rest, ok := strings.CutPrefix(v.Word, "-"); ok {
		return Value{Word: rest}
	}
	return Value{Word: "-" + strings.TrimPrefix(v.Word, "+")}
}

// halfTurn is 180 degrees in the unit of angles.
func (t *Text) halfTurn() (float64, error) {
	for _, in := range t.Insts {
		if in.Keyword != "IFCUNITASSIGNMENT" {
			continue
		}
		for _, v := range in.Args[0].List {
			if u := t.at(v); u != nil && len(u.Args) > 1 && u.Args[1].Word == ".PLANEANGLEUNIT." {
				if u.Keyword == "IFCSIUNIT" {
					return 3.14159265358979324, nil
				}
				return 180, nil
			}
		}
	}
	return 3.14159265358979324, nil
}

// mirrorAngles writes the profiles of angle sections so that what the mirror does
// to their placement mirrors them, too: the mirrored section is the one with its
// legs exchanged, turned by a quarter.
func (t *Text) mirrorAngles() {
	t.each(func(in *Inst) {
		at, x := Value{}, []float64{1, 0}
		if p := t.at(in.Args[2]); p != nil {
			at = p.Args[0]
			if d := t.at(p.Args[1]); d != nil {
				if f, err := d.Args[0].floats(); err == nil {
					x = f
				}
			}
		} else {
			at = t.new("IFCCARTESIANPOINT", []float64{0, 0})
		}
		// Mirrored it is (x[1], x[0]), a quarter turn from (x[0], -x[1]).
		ref := t.new("IFCDIRECTION", []float64{x[1], -x[0]})
		in.Args[2] = t.new("IFCAXIS2PLACEMENT2D", at, ref)
		if in.Args[4].Word != "$" { // legs of one length otherwise
			in.Args[3], in.Args[4] = in.Args[4], in.Args[3]
		}
	}, "IFCLSHAPEPROFILEDEF")
}

// mirrorTrims: the point of a circle at an angle comes to that at the half turn
// less it, and the other way round; on a line nothing changes.
func (t *Text) mirrorTrims(halfTurn float64) {
	t.each(func(in *Inst) {
		basis := t.at(in.Args[0])
		if basis == nil || basis.Keyword != "IFCCIRCLE" && basis.Keyword != "IFCELLIPSE" {
			return
		}
		walk(in.Args[1:3], func(v *Value) {
			if v.IsList && v.Word == "IFCPARAMETERVALUE" {
				if f, err := v.List[0].number(); err == nil {
					v.List = []Value{real(halfTurn - f)}
				}
			}
		})
		in.Args[3] = Value{Word: map[string]string{".T.": ".F.", ".F.": ".T."}[in.Args[3].Word]}
	}, "IFCTRIMMEDCURVE")
}

// turnLoops keeps the outside of faces outside: mirrored loops run the other way.
func (t *Text) turnLoops() {
	t.each(func(in *Inst) { slices.Reverse(in.Args[0].List) }, "IFCPOLYLOOP")
	t.each(func(in *Inst) { slices.Reverse(in.Args[0].List) }, "IFCINDEXEDPOLYGONALFACE", "IFCINDEXEDPOLYGONALFACEWITHVOIDS")
	t.each(func(in *Inst) {
		for _, hole := range in.Args[1].List {
			slices.Reverse(hole.List)
		}
	}, "IFCINDEXEDPOLYGONALFACEWITHVOIDS")
	t.each(func(in *Inst) {
		for _, triangle := range in.Args[3].List {
			slices.Reverse(triangle.List)
		}
	}, "IFCTRIANGULATEDFACESET")
}
