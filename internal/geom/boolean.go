package geom

// Subtract is the part of a outside all cutters. Faces keep their numbers;
// those cut by the first cutter get numbers after a's, those of the second after
// that, and so on. Operands must be closed; which way their triangles run does
// not matter, and they may be anywhere, also far from zero. Faces of different
// bodies that lie within 1e-3 mm of one plane count as lying in it.
//
// Triangles of a that no cutter touches stay as they are; touched faces come out
// as large as they can be, and neighbours share the points on common sides.
func Subtract(a *Mesh, cutters ...*Mesh) *Mesh {
	return combine(a, cutters, func(inA, inB bool) bool { return inA && !inB })
}

// Union is every point of a or b. Numbers of b's faces come after a's; where
// faces of both lie on each other, a's count.
func Union(a, b *Mesh) *Mesh {
	return combine(a, []*Mesh{b}, func(inA, inB bool) bool { return inA || inB })
}

// Intersect is every point of both a and b. Numbers are as in Union.
func Intersect(a, b *Mesh) *Mesh {
	return combine(a, []*Mesh{b}, func(inA, inB bool) bool { return inA && inB })
}

// combine is the body of all places that keep wants, judged by whether they lie
// in a and in any of the others.
//
// The surface of the result is made of pieces of the operands' faces. Faces that
// touch are cut along their common lines; all that lies in one plane is then one
// drawing of cells. What is just above and just below a cell is found by looking
// from it, and the cell belongs to the result when keep differs.
//
// Decisions by rounded numbers can, rarely, contradict each other, and the
// result is then not closed. It is tried again with other tolerances, and as a
// last resort with faces of one operand cut by each other too.
func combine(a *Mesh, others []*Mesh, keep func(inA, inB bool) bool) *Mesh {
	var best *Mesh
	least := -1
	for _, try := range [...]struct {
		tol   float64
		selfs bool
	}{{1, false}, {10, false}, {0.1, false}, {100, false}, {1, true}, {10, true}} {
		s := newSoup(a, others, try.tol, try.selfs)
		m, open := s.combine(keep)
		if best == nil || open < least {
			best, least = m, open
		}
		if least == 0 {
			break
		}
	}
	return best
}
