package setout

import (
	"strconv"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Quantity is what a dimension measures.
type Quantity string

const (
	Place      Quantity = "place"      // from a side of the form, or above the form
	Spacing    Quantity = "centres"    // axis to axis
	Diagonal   Quantity = "diagonal"   // across a set, or the form
	Embedment  Quantity = "embedment"  // from the face to the bearing side
	Projection Quantity = "projection" // from the face to the thread's end
	Sunk       Quantity = "sunk"       // from the face down to the open end
	BackCover  Quantity = "back cover" // concrete behind the deepest point
	StandOff   Quantity = "stand-off"  // from the face to the underside of the template
	Flush      Quantity = "flush"      // of a plate's outer face to the concrete's; positive: proud
	Extent     Quantity = "size"       // of the form, a plate, a template, a box
	Length     Quantity = "length"     // from the open end to the deepest point
	Clear      Quantity = "opening"    // clear width or height of an opening
)

// Dim is one dimension of a sheet.
type Dim struct {
	Key      string // unit mark / set mark or "form" / what; the same as long as marks and places stay
	Unit     string
	Set      string // "form" for those of the form
	What     string // last part of the key: "x 1", "centres 1-2", "embedment 3"
	Text     string // for people: "bolt HD-1.1 from the left side of the form"
	Quantity Quantity
	Axis     Axis // for Place
	MM       float64
	Tol      *Tolerance // nil: none is stated here
	Taped    bool       // it can be measured in the form before the pour
	From, To geom.Vec   // its ends, in the cast frame; equal where it has no place
	Dir      geom.Vec   // unit, along which it is measured, in the cast frame
	Items    []*model.Item
	Anchors  []int // numbers of the anchors in the set
}

func itoa(n int) string { return strconv.Itoa(n) }
