// Package model holds the building in the words of the trade: hosts, items,
// anchors, sets and bars. No word of IFC is needed to read it; the class names
// that it carries are labels for people and for selectors.
//
// Lengths are mm. Coordinates are local: world = local + Model.Origin.
// A Model is read-only once it is built, so that rules may run side by side.
package model

import (
	"slices"
	"strings"

	"embedcheck/internal/geom"
)

// Model is everything that was read from the files of one run.
type Model struct {
	Sources []Source
	Origin  geom.Vec // mm, world position of the local origin
	Hosts   []*Host
	Items   []*Item
	Sets    []*Set
	Sheets  []*Sheet // plates that bolts stand through
	Bars    Bars
	LeftOut []LeftOut
	Unread  []Unread
	Remarks []string // about the files as one federation
}

// World is a local point in metres in the model's own world coordinates.
func (m *Model) World(p geom.Vec) geom.Vec { return p.Add(m.Origin).Mul(1e-3) }

// Source is one file.
type Source struct {
	Path      string // as given
	Name      string // without folders, but for those that tell it from another file's
	SHA256    string
	Schema    string    // IFC2X3, IFC4, IFC4X3
	Project   string    // GlobalId of the project
	Date      string    // time stamp of the file header, as written
	Unit      string    // length unit, in words
	Map       *MapPlace // nil when the file does not say
	TrueNorth *float64  // degrees from the y axis, anticlockwise; nil when the file does not say
}

// MapPlace is where a file's coordinates lie on a map.
type MapPlace struct {
	CRS                         string  // name of the map's coordinate system
	Eastings, Northings, Height float64 // metres, of the origin
	Turn                        float64 // degrees from the map's east to the x axis, anticlockwise
	Scale                       float64 // from the file's length unit to the map's
}

// Ref names the element that something was read from.
type Ref struct {
	GlobalID string
	Class    string // IfcWall, ...
	Name     string
	Mark     string // tag
	Type     string // name of its type or its object type
	Material string
	Source   int    // index in Model.Sources
	Instance uint64 // number in the file
	Line     int    // line in the file; 0 unless something is wrong there
}

// Property looks values up by "Pset.Name"; false when there is none.
type Property func(name string) (string, bool)

func said(p Property, name string) (text string, ok bool) {
	if p == nil {
		return "", false
	}
	text, ok = p(name)
	text = strings.TrimSpace(text)
	return text, ok && text != ""
}

// Host is one concrete element that items are cast into.
type Host struct {
	Ref
	Solid    *geom.Solid // what is concrete: Body less all Voids; may be nil when nothing is cast in
	Body     *geom.Mesh  // before openings and recesses are taken out; nil as Solid
	Voids    []*Void
	Frame    geom.Affine // the element's own placement, rigid, local coordinates
	Box      geom.Box
	Items    []*Item
	Evidence []string
	Property Property
	Assembly string // name or mark of the assembly it belongs to
}

// Says is what the model states under a property of the host, in any property
// set; ok is false for an empty text.
func (h *Host) Says(property string) (text string, ok bool) { return said(h.Property, property) }

// Without is the host's concrete with the given voids left filled: an item's
// own recess is no edge to it.
func (h *Host) Without(own []*Void) *geom.Solid {
	if len(own) == 0 && h.Solid != nil {
		return h.Solid
	}
	var cut []*geom.Mesh
	for _, v := range h.Voids {
		if !slices.Contains(own, v) {
			cut = append(cut, v.Mesh)
		}
	}
	return geom.NewSolid(h.Body, cut...)
}

// Void is an opening or recess taken out of a host.
type Void struct {
	Ref
	Mesh   *geom.Mesh
	Box    geom.Box
	Filler uint64 // instance that fills it; 0 when nothing does
}

// Kind is what an item is.
type Kind int

const (
	Other Kind = iota
	Bolt
	Stud
	Socket
	Lifter
	Plate
	Channel
	Sleeve
	Former
	Template
	Fitting
)

var kindNames = [...]string{"other", "bolt", "stud", "socket", "lifter", "plate", "channel", "sleeve", "former", "template", "fitting"}

func (k Kind) String() string { return kindNames[k] }

// ParseKind reads a kind's name.
func ParseKind(s string) (Kind, bool) {
	for i, n := range kindNames {
		if n == s {
			return Kind(i), true
		}
	}
	return 0, false
}

// Kinds are all names of kinds.
func Kinds() []string { return kindNames[:] }

// Item is one cast-in item.
type Item struct {
	Ref
	Kind     Kind
	Size     string // as a person says it: "M20", "plate 200 x 200 x 10"
	Bodies   []Body
	Frame    geom.Affine // the element's own placement, rigid, local coordinates; zero when it is not known
	Box      geom.Box
	Anchors  []*Anchor
	Host     *Host      // nil when there is none
	Set      *Set       // nil for an item that stands alone
	Outline  []geom.Vec // plates: corners of the outer face, counter-clockwise seen from outside; nil otherwise
	Thick    float64    // plates: thickness, mm
	PlateIn  *Entry     // plates: the face of the host that the outer face lies in; nil when there is none
	Stated   Stated
	Evidence []string
	Property Property
	Assembly string // name or mark of the innermost assembly
	Twin     bool   // a part that only completes another item (nut, washer)
	Tube     bool   // a hole for a lifting pin: a lifter without an anchor
}

// Says is what the model states under a property of the item, as Host.Says.
func (it *Item) Says(property string) (text string, ok bool) { return said(it.Property, property) }

// Body is one piece of an item: a rod where the geometry is one, a mesh
// otherwise. Exactly one of the two is set.
type Body struct {
	Rod  *geom.Rod
	Mesh *geom.Mesh
	Box  geom.Box
	Ref  *Ref // the part it comes from when that is not the item itself
}

// Stated is what the model says in words about an item; zero when it is silent.
type Stated struct {
	Diameter   float64 // mm
	Length     float64 // mm
	Embedment  float64 // mm
	Projection float64 // mm
	Thread     float64 // mm, length of the thread
	Finish     string
	Grade      string
	Tightening string            // torque, preload, or where they are given
	From       map[string]string // field -> where it was said
}

// EndKind is how an anchor holds in the concrete.
type EndKind int

const (
	Plain EndKind = iota
	Hooked
	Headed
)

var endNames = [...]string{"plain", "hooked", "headed"}

func (e EndKind) String() string { return endNames[e] }

// Anchor is one axis-bearing member of an item. Distances along the axis run
// from Open into the concrete.
type Anchor struct {
	Item     *Item
	Index    int      // in Item.Anchors
	Open     geom.Vec // open end: thread end, socket mouth
	Dir      geom.Vec // unit, from the open end into the concrete
	Length   float64  // of the straight axis: to the head's outer side, the hook's tangent point or the end
	Diameter float64
	End      EndKind
	Bearing  float64    // Open to the bearing side of hook, head, nut or washer plate; plain: to its end
	Deepest  float64    // Open to the deepest point of the item along the axis
	HeadSize float64    // diameter across the head, 0 without one
	Parts    []Part     // nuts, washers and heads around it, from the open end on
	Thread   float64    // length of the thread from Open where it is modelled; 0 otherwise
	Hook     []geom.Vec // centreline of the hook from its tangent point; nil without one
	Entry    *Entry     // nil when no entry face was found
	Part     *Ref       // the part that carries the axis, when the item has several; nil otherwise
}

// At is the point on the axis at distance t from the open end.
func (a *Anchor) At(t float64) geom.Vec { return a.Open.Add(a.Dir.Mul(t)) }

// Entry is where an anchor's axis enters its host, the item's own voids being
// taken as concrete.
type Entry struct {
	Point     geom.Vec    // axis and face
	Normal    geom.Vec    // unit, out of the concrete
	Dist      float64     // Open to Point along the axis; negative when the open end is sunk
	Thickness float64     // concrete along the axis from Point to the far face
	Solid     *geom.Solid // the host with the item's own voids filled
	Part      int         // part of Solid that Point lies on
	Tri       int         // triangle of that part
	Clear     float64     // mm; surface wholly within this distance of the axis is the item's own hole
}

// Embedment is the embedment depth: entry face to bearing side, along the axis.
func (a *Anchor) Embedment() float64 { return a.Bearing - a.Entry.Dist }

// BackCover is the concrete behind the deepest point; negative: it pokes through.
func (a *Anchor) BackCover() float64 { return a.Entry.Thickness - (a.Deepest - a.Entry.Dist) }

// Set is anchors that work together.
type Set struct {
	Name     string
	Items    []*Item
	Anchors  []*Anchor
	Template *Item // nil when there is none
	Evidence string
}

// LeftOut is an element that is neither host, item nor bar, and why.
type LeftOut struct {
	Ref
	Why string
}

// Unread is something that could not be read or checked.
type Unread struct {
	Ref
	Role string // host, item, bar, element, file
	Why  string
	At   geom.Vec
}
