package element

import "embedcheck/ifcread"

// relations are the links between instances that say what belongs together.
// Only links that end at something other than reinforcement are kept, but for
// assemblies: a model has a thousand bars for each item.
type relations struct {
	whole    map[ifcread.ID]ifcread.ID
	typeOf   map[ifcread.ID]ifcread.ID
	material map[ifcread.ID]ifcread.ID
	openings map[ifcread.ID][]ifcread.ID
	filling  map[ifcread.ID]ifcread.ID // opening -> element
	fills    map[ifcread.ID]bool
	propsets map[ifcread.ID][]ifcread.ID
}

func readRelations(f *ifcread.File) relations {
	r := relations{
		whole:    map[ifcread.ID]ifcread.ID{},
		typeOf:   map[ifcread.ID]ifcread.ID{},
		material: map[ifcread.ID]ifcread.ID{},
		openings: map[ifcread.ID][]ifcread.ID{},
		filling:  map[ifcread.ID]ifcread.ID{},
		fills:    map[ifcread.ID]bool{},
		propsets: map[ifcread.ID][]ifcread.ID{},
	}
	each := func(class string, see func(args []ifcread.Value)) {
		var args []ifcread.Value
		for _, i := range f.Of(ifcread.TypeOf(class)) {
			if args = i.Args(args[:0]); len(args) > 5 {
				see(args)
			}
		}
	}
	// Aggregates and nests: the whole comes first, then its parts.
	for _, class := range []string{"IfcRelAggregates", "IfcRelNests"} {
		each(class, func(a []ifcread.Value) {
			if whole, ok := a[4].Ref(); ok {
				r.link(a[5], func(part ifcread.ID) { setOnce(r.whole, part, whole) })
			}
		})
	}
	each("IfcRelVoidsElement", func(a []ifcread.Value) {
		host, ok1 := a[4].Ref()
		void, ok2 := a[5].Ref()
		if ok1 && ok2 {
			r.openings[host] = append(r.openings[host], void)
		}
	})
	each("IfcRelFillsElement", func(a []ifcread.Value) {
		void, ok1 := a[4].Ref()
		by, ok2 := a[5].Ref()
		if ok1 && ok2 {
			r.filling[void], r.fills[by] = by, true
		}
	})
	// Definitions and associations: the objects come first, then what is said.
	steel := ifcread.TypeOf("IfcReinforcingElement")
	objects := func(v ifcread.Value, see func(ifcread.ID)) {
		r.link(v, func(id ifcread.ID) {
			if i, ok := f.Get(id); ok && !i.Is(steel) {
				see(id)
			}
		})
	}
	each("IfcRelDefinesByType", func(a []ifcread.Value) {
		if t, ok := a[5].Ref(); ok {
			objects(a[4], func(id ifcread.ID) { setOnce(r.typeOf, id, t) })
		}
	})
	each("IfcRelAssociatesMaterial", func(a []ifcread.Value) {
		if m, ok := a[5].Ref(); ok {
			objects(a[4], func(id ifcread.ID) { setOnce(r.material, id, m) })
		}
	})
	each("IfcRelDefinesByProperties", func(a []ifcread.Value) {
		objects(a[4], func(id ifcread.ID) {
			r.link(a[5], func(set ifcread.ID) { r.propsets[id] = append(r.propsets[id], set) })
		})
	})
	return r
}

// link visits the references of a value: one, a list, or a typed list as IFC4
// allows for sets of property sets.
func (r *relations) link(v ifcread.Value, see func(ifcread.ID)) {
	if id, ok := v.Ref(); ok {
		see(id)
		return
	}
	if _, inner, ok := v.Typed(); ok {
		v = inner
	}
	for e := range v.All() {
		if id, ok := e.Ref(); ok {
			see(id)
		}
	}
}

// setOnce keeps the first of several links, as the file has them in order.
func setOnce(m map[ifcread.ID]ifcread.ID, key, to ifcread.ID) {
	if _, ok := m[key]; !ok {
		m[key] = to
	}
}
