package ifcread

import "slices"

// grouped are the entities whose rows are listed together: those with a GlobalId
// and those that say what numbers mean. Points, curves and the like, most of a
// file, are not.
var grouped = [...]string{"IfcRoot", "IfcUnitAssignment", "IfcRepresentationContext", "IfcCoordinateOperation"}

// Of is the instances whose entity is t or one below it by the file's schema, in
// the order of the file. Two instances with one number are both among them. The
// slice is shared: do not change it.
func (f *File) Of(t Type) []Inst {
	if t == 0 {
		return nil
	}
	if list, ok := f.groups.Load(t); ok {
		return list.([]Inst)
	}
	list, _ := f.groups.LoadOrStore(t, f.collect(t))
	return list.([]Inst)
}

func (f *File) collect(super Type) []Inst {
	f.listOnce.Do(f.listRows)
	types := f.subtypes(super)
	var rows []uint32
	scan := false
	for t, below := range types {
		if below {
			rows = append(rows, f.rows[t]...)
			scan = scan || !f.listed[t]
		}
	}
	if scan {
		rows = rows[:0]
		for row, t := range f.types {
			if types[t] {
				rows = append(rows, uint32(row))
			}
		}
	}
	slices.Sort(rows)
	list := make([]Inst, len(rows))
	for i, row := range rows {
		list[i] = Inst{f, row}
	}
	return list
}

// subtypes marks t and all entities below it.
func (f *File) subtypes(super Type) []bool {
	types := make([]bool, len(known().names))
	for t := 1; t < len(types); t++ {
		types[t] = f.IsA(Type(t), super)
	}
	return types
}

// listRows lists the rows of the grouped entities.
func (f *File) listRows() {
	f.listed = make([]bool, len(known().names))
	for _, name := range grouped {
		for t, below := range f.subtypes(TypeOf(name)) {
			f.listed[t] = f.listed[t] || below
		}
	}
	f.rows = make([][]uint32, len(f.listed))
	for row, t := range f.types {
		if f.listed[t] {
			f.rows[t] = append(f.rows[t], uint32(row))
		}
	}
}
