package drawing

import "embedcheck/internal/geom"

// Drawing is one sheet. Points are mm on paper, x to the right and y down from
// its upper left corner.
type Drawing struct {
	Width, Height float64
	Title         string
	Marks         []Mark
	Dims          []Dim   // every dimension that is drawn, as data
	Figure        *Figure // what the finding compares; nil when nothing is measured
	Fields        []Field // its views and its key, for pages that show them alone
}

// Dim is a dimension as data.
type Dim struct {
	Name    string // what is measured, such as "edge distance"
	ValueMM float64
	Fails   bool // it misses its limit
}

// Figure is a measured value and its limit, as data.
type Figure struct {
	Name               string
	Measured, Required float64
	Unit               string // mm, ratio, degrees, count
}

// Line widths of ISO 128, group 0.5, in mm.
const (
	Hair  = 0.13 // hatching
	Thin  = 0.18 // dimensions, centre lines, breaks
	Fine  = 0.25 // bars, what lies behind
	Mid   = 0.35 // items
	Thick = 0.5  // outlines of concrete
	Heavy = 0.7  // what misses its limit
)

// Dash is a kind of line.
type Dash int

const (
	Solid     Dash = iota
	Dashed         // hidden
	Chain          // centre lines, cutting planes
	TwoDotted      // outlines of neighbouring parts, breakout cones
)

// Ink is a colour. All are dark enough to be told on a black and white print.
type Ink int

const (
	Black Ink = iota
	Grey
	Accent // what misses its limit
	White
	NoInk
)

// Pen draws lines.
type Pen struct {
	Width float64 // mm
	Dash  Dash
	Ink   Ink
}

// Mark is a thing on paper: a Line, Poly, Circle, Text or Group.
type Mark interface{ mark() }

// Line is a straight line.
type Line struct {
	A, B geom.Vec2
	Pen  Pen
}

// Poly is a path of straight lines.
type Poly struct {
	Points []geom.Vec2
	Closed bool
	Fill   Ink
	Pen    Pen
}

// Circle is a whole circle.
type Circle struct {
	C    geom.Vec2
	R    float64
	Fill Ink
	Pen  Pen
}

// Align is where a text's point lies on it.
type Align int

const (
	Left Align = iota
	Middle
	Right
)

// Text is one line of lettering. Point lies on the base line.
type Text struct {
	At    geom.Vec2
	Text  string
	Size  float64 // mm, height of capitals
	Align Align
	Turn  float64 // degrees, counter-clockwise
	Bold  bool
	Halo  bool // on a white ground, where it lies over lines
	Ink   Ink
	Width float64 // mm, as reserved on the sheet
}

// Group is marks that belong together: those of a dimension carry it.
type Group struct {
	Name   string // of a part of the sheet: "view", "section", ...
	Dim    *Dim
	Figure *Figure
	Marks  []Mark
}

func (Line) mark()   {}
func (Poly) mark()   {}
func (Circle) mark() {}
func (Text) mark()   {}
func (Group) mark()  {}
