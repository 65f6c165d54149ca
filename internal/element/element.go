package element

import (
	"embedcheck/ifcread"
	"embedcheck/internal/geom"
	"embedcheck/internal/shape"
)

// Element is one element with a shape of its own.
type Element struct {
	Inst        ifcread.Inst
	Model       *Model
	GlobalID    string
	Class       string // entity name in the standard's spelling
	Name        string
	Description string
	ObjectType  string
	Predefined  string // the type's when it has one, else the occurrence's
	Tag         string
	Type        *Type // nil without one
	Materials   []string
	Whole       *Whole      // the assembly or element that it is a part of; nil otherwise
	Place       geom.Affine // object coordinates to world, mm
	Problem     string      // why the place is unknown; "" when it is known
	Shape       *shape.Shape
	Openings    []*Opening
	Fills       bool // it fills an opening of some host
}

// Type is the type object of an element.
type Type struct {
	Inst       ifcread.Inst
	Name       string
	Predefined string
	Element    string // ElementType, the text behind USERDEFINED
}

// Whole is something that has parts: an assembly, or an element with parts.
type Whole struct {
	Inst     ifcread.Inst
	GlobalID string
	Class    string
	Name     string
	Tag      string
	Up       *Whole // nil at the top
}

// Label is what a person calls the whole: its mark, or else its name.
func (w *Whole) Label() string {
	if w == nil {
		return ""
	}
	if w.Tag != "" {
		return w.Tag
	}
	return w.Name
}

// Top is the outermost whole.
func (w *Whole) Top() *Whole {
	if w == nil {
		return nil
	}
	for w.Up != nil {
		w = w.Up
	}
	return w
}

// Opening is a feature that is taken out of an element.
type Opening struct {
	Inst     ifcread.Inst
	GlobalID string
	Class    string
	Name     string
	Place    geom.Affine
	Problem  string
	Shape    *shape.Shape
	FilledBy ifcread.ID // 0 when nothing fills it
}
