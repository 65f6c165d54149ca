package element

import (
	"sync"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
	"embedcheck/internal/shape"
)

// Model is one file, opened for its elements.
type Model struct {
	File     *ifcread.File
	Units    shape.Units
	Elements []*Element // in file order, without reinforcement
	Bars     []ifcread.Inst
	reader   *shape.Reader
	rel      relations
	types    sync.Map // ifcread.ID -> *Type
	wholes   sync.Map // ifcread.ID -> *Whole
}

// Read finds the elements of a file and evaluates their shapes on the given
// number of workers. The result does not depend on it.
func Read(f *ifcread.File, workers int) *Model {
	m := &Model{File: f, Units: shape.ReadUnits(f)}
	m.reader = shape.NewReader(f, m.Units)
	m.rel = readRelations(f)
	insts := elementInstances(f)
	m.Elements = make([]*Element, len(insts))
	Parallel(len(insts), workers, func(i int) { m.Elements[i] = m.element(insts[i]) })
	m.Bars = f.Of(ifcread.TypeOf("IfcReinforcingElement"))
	return m
}

// Exceeded says that the shapes of the model are more than is read; "" when they
// are not. It counts bars once they were visited.
func (m *Model) Exceeded() string { return m.reader.Exceeded() }

// Release lets go of the elements and their shapes, when all that is needed of
// them has been taken. Properties can still be looked up.
func (m *Model) Release() {
	m.Elements, m.Bars, m.reader = nil, nil, nil
	m.wholes.Clear()
}

// Parallel calls work for 0..n-1 on the given number of workers.
func Parallel(n, workers int, work func(i int)) {
	if workers < 2 || n < 2 {
		for i := range n {
			work(i)
		}
		return
	}
	const batch = 16
	var next int
	var mu sync.Mutex
	var wg sync.WaitGroup
	for range min(workers, (n+batch-1)/batch) {
		wg.Go(func() {
			for {
				mu.Lock()
				from := next
				next += batch
				mu.Unlock()
				if from >= n {
					return
				}
				for i := from; i < min(from+batch, n); i++ {
					work(i)
				}
			}
		})
	}
	wg.Wait()
}

// elementInstances are the elements that have a shape of their own. Openings
// are read with their hosts, reinforcement apart.
func elementInstances(f *ifcread.File) []ifcread.Inst {
	var out []ifcread.Inst
	feature := ifcread.TypeOf("IfcFeatureElement")
	steel := ifcread.TypeOf("IfcReinforcingElement")
	virtual := ifcread.TypeOf("IfcVirtualElement")
	for _, e := range f.Of(ifcread.TypeOf("IfcElement")) {
		if e.Is(feature) || e.Is(steel) || e.Is(virtual) || e.Attr("Representation").IsNull() {
			continue
		}
		out = append(out, e)
	}
	return out
}

func (m *Model) element(i ifcread.Inst) *Element {
	var room [16]ifcread.Value
	a := attributes{i, i.Args(room[:0])}
	e := &Element{
		Inst: i, Model: m, Class: i.Name(),
		GlobalID:    text(a.get("GlobalId")),
		Name:        text(a.get("Name")),
		Description: text(a.get("Description")),
		ObjectType:  text(a.get("ObjectType")),
		Predefined:  a.get("PredefinedType").Enum(),
		Tag:         text(a.get("Tag")),
	}
	if t, ok := m.rel.typeOf[i.ID()]; ok {
		e.Type = m.typeObject(t)
		if p := e.Type.Predefined; p != "" && p != "NOTDEFINED" {
			e.Predefined = p
		}
	}
	e.Materials = m.materials(i.ID())
	if len(e.Materials) == 0 && e.Type != nil {
		e.Materials = m.materials(e.Type.Inst.ID())
	}
	e.Whole = m.Whole(i)
	e.Place, e.Problem = m.place(i)
	e.Shape = m.reader.Shape(i)
	for _, o := range m.rel.openings[i.ID()] {
		e.Openings = append(e.Openings, m.opening(o))
	}
	e.Fills = m.rel.fills[i.ID()]
	return e
}

func (m *Model) opening(id ifcread.ID) *Opening {
	i, ok := m.File.Get(id)
	if !ok {
		return &Opening{Problem: "the opening is not in the file", Shape: &shape.Shape{}}
	}
	o := &Opening{
		Inst: i, Class: i.Name(),
		GlobalID: text(i.Attr("GlobalId")),
		Name:     text(i.Attr("Name")),
		Shape:    m.reader.Shape(i),
		FilledBy: m.rel.filling[id],
	}
	o.Place, o.Problem = m.place(i)
	return o
}

func (m *Model) place(i ifcread.Inst) (geom.Affine, string) {
	p, ok := i.Attr("ObjectPlacement").Inst()
	if !ok {
		return geom.Identity, ""
	}
	at, err := m.reader.Placement(p)
	if err != nil {
		return geom.Identity, err.Error()
	}
	return at, ""
}

func (m *Model) typeObject(id ifcread.ID) *Type {
	if t, ok := m.types.Load(id); ok {
		return t.(*Type)
	}
	i, _ := m.File.Get(id)
	t := &Type{
		Inst:       i,
		Name:       text(i.Attr("Name")),
		Predefined: i.Attr("PredefinedType").Enum(),
		Element:    text(i.Attr("ElementType")),
	}
	got, _ := m.types.LoadOrStore(id, t)
	return got.(*Type)
}

// Whole is what the instance is a part of; nil for one that stands alone.
// Chains that run in a circle end where they come back.
func (m *Model) Whole(i ifcread.Inst) *Whole {
	return m.whole(i.ID(), 0)
}

func (m *Model) whole(part ifcread.ID, depth int) *Whole {
	const deepest = 32
	id, ok := m.rel.whole[part]
	if !ok || depth == deepest {
		return nil
	}
	if w, ok := m.wholes.Load(id); ok {
		return w.(*Whole)
	}
	i, ok := m.File.Get(id)
	if !ok || !i.Is(ifcread.TypeOf("IfcElement")) {
		return nil
	}
	w := &Whole{
		Inst: i, Class: i.Name(),
		GlobalID: text(i.Attr("GlobalId")),
		Name:     text(i.Attr("Name")),
		Tag:      text(i.Attr("Tag")),
		Up:       m.whole(id, depth+1),
	}
	got, _ := m.wholes.LoadOrStore(id, w)
	return got.(*Whole)
}

// attributes are those of an instance, found by one scan over its parameters.
type attributes struct {
	in   ifcread.Inst
	args []ifcread.Value
}

func (a *attributes) get(name string) ifcread.Value {
	if n := a.in.File().Pos(a.in.Type(), name); n >= 0 && n < len(a.args) {
		return a.args[n]
	}
	return ifcread.Value{}
}

func text(v ifcread.Value) string {
	s, _ := v.Str()
	return s
}
