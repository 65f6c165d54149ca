package setout

import (
	"cmp"
	"slices"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// Unit is one host as it is set out and cast.
type Unit struct {
	Host    *model.Host
	Mark    string // unique in the model; first part of all keys
	Cast    Cast
	Frame   geom.Affine // the cast frame, rigid, in the model's local coordinates
	Size    geom.Vec    // X length, Y width, Z thickness: of the form's inside
	Outline [][]geom.Vec2
	Rect    bool // the outline is a rectangle
	Corner  bool // there is concrete at the datum corner; else it lies where the form's sides would meet
	Voids   []Void
	Sets    []*Set
	Form    []Dim // of the form itself and its openings
}

// Void is an opening or recess in the cast frame.
type Void struct {
	Void    *model.Void
	Mark    string
	Min     geom.Vec // of the box around it
	Max     geom.Vec
	Through bool
	Face    Face // that a recess opens to
}

// Set is what is set out together: a set of the model, or an item that stands
// alone, as far as it enters one face.
type Set struct {
	Mark     string // unique in its unit; second part of the keys
	Model    *model.Set
	Face     Face
	Items    []*model.Item // all that belong to it, as fittings and templates
	Anchors  []Anchor
	Plates   []Plate
	Bodies   []Block // items that have neither an anchor nor a plate
	Template *model.Item
	Dims     []Dim
}

// Anchor is an anchor with its number in the set, counted from the datum corner
// along the rows.
type Anchor struct {
	*model.Anchor
	Number int      // from 1
	Mark   string   // of its item where that tells anchors apart, else set mark and number
	At     geom.Vec // where it enters, in the cast frame
}

// Plate is a cast-in plate in the cast frame.
type Plate struct {
	*model.Item
	Mark    string
	Corners []geom.Vec // of its outer face
	Square  bool       // its sides run along the form's
}

// Block is an item that is set out by the box around it.
type Block struct {
	*model.Item
	Mark     string
	Min, Max geom.Vec // cast frame
}

// Dims are all dimensions of a unit: of its form, then of its sets.
func (u *Unit) Dims() []Dim {
	out := slices.Clone(u.Form)
	for _, s := range u.Sets {
		out = append(out, s.Dims...)
	}
	return out
}

// Plan sets out every host of a model that something is cast into, ordered by
// mark.
func Plan(m *model.Model, tol Tolerances) []*Unit {
	var hosts []*model.Host
	for _, h := range m.Hosts {
		if len(h.Items) > 0 && h.Body != nil && len(h.Body.Verts) > 0 {
			hosts = append(hosts, h)
		}
	}
	marks := hostMarks(hosts)
	near := measure.NewSurroundings(m.Hosts)
	units := make([]*Unit, len(hosts))
	for i, h := range hosts {
		units[i] = newUnit(h, marks[i], near, tol)
	}
	slices.SortStableFunc(units, func(a, b *Unit) int {
		return cmp.Or(finding.Natural(a.Mark, b.Mark), cmp.Compare(a.Host.GlobalID, b.Host.GlobalID))
	})
	return units
}

func newUnit(h *model.Host, mark string, near *measure.Surroundings, tol Tolerances) *Unit {
	u := &Unit{Host: h, Mark: mark}
	u.lay(near)
	u.outline()
	u.voids()
	u.sets()
	u.formDims(tol)
	for _, s := range u.Sets {
		newTaker(u, s, tol).take()
	}
	return u
}
