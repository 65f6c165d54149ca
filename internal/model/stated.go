package model

import (
	"slices"
	"strings"
)

// Datum is something that a model has to say of an item in words, since its
// shape does not show it, or shows it only to who measures.
type Datum string

const (
	SizeDatum   Datum = "size"
	FinishDatum Datum = "finish"
	GradeDatum  Datum = "grade"

	TighteningDatum Datum = "tightening"
)

// Data are those that every model is asked for. Which bolts are tightened to a
// figure is the engineer's word.
var Data = []Datum{SizeDatum, FinishDatum, GradeDatum}

// Kinds are the kinds of items that a datum is wanted of.
func (d Datum) Kinds() []Kind {
	switch d {
	case SizeDatum:
		return []Kind{Bolt, Stud, Socket}
	case FinishDatum:
		return []Kind{Bolt, Socket, Lifter, Plate, Channel}
	}
	return []Kind{Bolt}
}

// States reports whether the model states a datum of the item. A material with
// a figure in its name, such as S355, states the grade.
func (it *Item) States(d Datum) bool {
	switch d {
	case SizeDatum:
		return it.Stated.Diameter > 0
	case FinishDatum:
		return it.Stated.Finish != ""
	case TighteningDatum:
		return it.Stated.Tightening != ""
	}
	return it.Stated.Grade != "" || strings.ContainsAny(it.Material, "0123456789")
}

// Lacks reports whether the datum is wanted of the item and not stated. A part
// that only completes another item lacks nothing of its own.
func (it *Item) Lacks(d Datum) bool {
	return !it.Twin && slices.Contains(d.Kinds(), it.Kind) && !it.States(d)
}
