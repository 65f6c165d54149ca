package recognise

import (
	"fmt"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/shape"
)

// Limits of what can be what, in mm. They are common practice, no published
// source: no concrete element that carries cast-in items is thinner than 40 mm,
// and drawing programs model things that are not there as bodies of 1 mm.
const (
	thinnestHost = 40
	dummySize    = 2.5
)

// judge gives an element its role and kind by its words, class and material.
// What the geometry around it says comes later.
func (e *elem) judge() {
	if len(e.Shape.Parts) == 0 {
		return // nothing readable: the caller reports it
	}
	d := e.dims()
	if d[1] <= dummySize {
		e.leave(fmt.Sprintf("a body of %.0f x %.0f mm stands for something that is not modelled", d[0], d[1]))
		return
	}
	kind, said := e.kindSaid()
	switch {
	case e.isFastening():
		e.castIn(kind, said)
	case kind != model.Other && e.mayBeItem(kind):
		e.castIn(kind, said)
	case e.isConcrete():
		e.role = hostRole
	case e.stuff == steel, e.stuff == unknownStuff && e.isLoose():
		e.castIn(kind, said) // to be confirmed by concrete around it
	default:
		e.leave("neither concrete nor an item by class, words or material")
	}
}

func (e *elem) leave(why string) {
	e.role = leftOut
	e.evidence(why)
}

// castIn takes the element for an item of a kind that the words or the class
// tell, or that the geometry will have to tell.
func (e *elem) castIn(kind model.Kind, said string) {
	e.role, e.kind = itemRole, kind
	if said != "" {
		e.evidence(said)
	} else {
		e.evidence("class " + e.Class)
	}
}

// predefinedKinds are the enumerators of the standard that tell a kind.
var predefinedKinds = map[string]model.Kind{
	"ANCHORBOLT":         model.Bolt,
	"STUDSHEARCONNECTOR": model.Stud,
	"ANCHORPLATE":        model.Plate,
	"SLEEVING":           model.Sleeve,
	"DUCT":               model.Sleeve,
	"GROUTING_DUCT":      model.Sleeve,
	"COUPLER":            model.Socket,
}

// surely are the kinds that exist only in concrete: one of them with no
// concrete around it was left behind.
var surely = map[model.Kind]bool{model.Bolt: true, model.Socket: true, model.Lifter: true}

// kindSaid is the kind that class and words tell. Bolts by the word "anchor"
// alone are not sure to be cast in.
func (e *elem) kindSaid() (model.Kind, string) {
	if k, ok := predefinedKinds[e.Predefined]; ok {
		e.strong = surely[k]
		return k, "predefined type " + e.Predefined
	}
	for _, t := range e.texts {
		if k, w, ok := kindByWords(t.plain); ok {
			e.strong = surely[k] && e.isLoose()
			return k, fmt.Sprintf("%s says %q", t.what, w)
		}
	}
	return model.Other, ""
}

var (
	mechanical = ifcread.TypeOf("IfcMechanicalFastener")
	fastener   = ifcread.TypeOf("IfcFastener")
	accessory  = ifcread.TypeOf("IfcDiscreteAccessory")
	proxy      = ifcread.TypeOf("IfcBuildingElementProxy")
	component  = ifcread.TypeOf("IfcElementComponent")
)

// isFastening tells classes that hold nothing but small hardware.
func (e *elem) isFastening() bool {
	return e.Inst.Is(mechanical) || e.Inst.Is(accessory) && e.stuff != concrete
}

// isLoose tells classes that say little about what an element is.
func (e *elem) isLoose() bool {
	return e.Inst.Is(mechanical) || e.Inst.Is(accessory) || e.Inst.Is(proxy) || e.Inst.Is(component) ||
		e.Inst.Is(fastener) && e.Predefined != "WELD" && e.Predefined != "GLUE" && e.Predefined != "MORTAR"
}

// biggest are the largest sizes in mm (middle and longest side) that an item of
// a kind has; words on something larger mean something else, as "channel" on a
// steel beam does. Common practice, no published source.
var biggest = map[model.Kind][2]float64{
	model.Bolt:     {1500, 4000},
	model.Stud:     {300, 1000},
	model.Socket:   {400, 1200},
	model.Lifter:   {1000, 2500},
	model.Plate:    {2000, 6000},
	model.Channel:  {150, 6000},
	model.Sleeve:   {500, 12000},
	model.Former:   {1000, 2500},
	model.Template: {2500, 4000},
	model.Fitting:  {400, 400},
}

// mayBeItem weighs words against what the element is made of and its size.
func (e *elem) mayBeItem(kind model.Kind) bool {
	d := e.dims()
	if m, ok := biggest[kind]; ok && (d[1] > m[0] || d[2] > m[1]) {
		return false
	}
	switch e.stuff {
	case steel, unknownStuff:
		return true
	case concrete:
		// Exporters give small embeds a "concrete" material so that they go
		// with the cast unit. A corbel or an upstand is concrete indeed.
		return d[0] < 150 && d[1] < 400
	}
	return kind == model.Former || kind == model.Sleeve
}

// massive are the classes whose elements are concrete when nothing says
// otherwise and they are not thin-walled.
var massive = map[string]bool{}

func init() {
	for _, c := range []string{"IfcWall", "IfcWallStandardCase", "IfcWallElementedCase", "IfcSlab", "IfcSlabStandardCase", "IfcSlabElementedCase",
		"IfcFooting", "IfcPile", "IfcStair", "IfcStairFlight", "IfcRamp", "IfcRampFlight", "IfcDeepFoundation", "IfcCaissonFoundation",
		"IfcBeam", "IfcBeamStandardCase", "IfcColumn", "IfcColumnStandardCase", "IfcBuildingElementPart", "IfcBearing", "IfcKerb"} {
		massive[c] = true
	}
}

// isConcrete tells a host: by its material, or by its class when no material
// speaks against it and its section is solid.
func (e *elem) isConcrete() bool {
	d := e.dims()
	if d[0] < thinnestHost || d[1] < 1.5*thinnestHost {
		return false
	}
	switch e.stuff {
	case concrete:
		return true
	case unknownStuff:
		if t := e.meanThickness(); massive[e.Class] && t >= thinnestHost {
			e.evidence(fmt.Sprintf("class %s, mean thickness %.0f mm", e.Class, t))
			return true
		}
	}
	return false
}

// meanThickness is twice the volume over the surface: the wall thickness of a
// rolled section, something near the smaller side of a solid one. 0 when it
// cannot be told.
func (e *elem) meanThickness() float64 {
	var volume, area float64
	for i := range e.Shape.Parts {
		m, err := e.Shape.Parts[i].Solid.Mesh()
		if err != nil {
			return 0
		}
		volume += m.Volume()
		area += m.Area()
	}
	if area == 0 {
		return 0
	}
	scale := 1.0
	if s, ok := e.Shape.Parts[0].At.Scale(); ok {
		scale = s
	}
	return 2 * volume / area * scale
}

// slenderRod is the rod that a part is, in local coordinates, when it is one.
func (e *elem) slenderRod(p *shape.Part) (geom.Rod, bool) {
	if p.Solid.Rod == nil {
		return geom.Rod{}, false
	}
	return p.Solid.Rod.Transform(e.place(p))
}
