package finding

import (
	"cmp"
	"slices"
)

// Run is one check as a whole: all that a writer needs to know.
type Run struct {
	Models   []ModelInfo
	Ruleset  Ruleset
	Counts   Counts
	Findings []Finding
	Remarks  []string // about the files as one federation
}

// ModelInfo is one file that was read.
type ModelInfo struct {
	Path      string // as given
	Name      string // without folders, but for those that tell it from another file's; what Ref.Model holds
	SHA256    string
	Schema    string    // IFC2X3, IFC4, IFC4X3
	Project   string    // GlobalId of the IfcProject
	Date      string    // time stamp of the file header, as written there
	Unit      string    // length unit, in words
	Map       *MapPlace // nil when the file does not say
	TrueNorth *float64  // degrees from the model's y axis, anticlockwise; nil when the file does not say
}

// MapPlace is where the coordinates of a model lie on a map. Findings are in the
// model's own coordinates; this is for those who go on to the site with them.
type MapPlace struct {
	CRS                         string  // name of the map's coordinate system, such as EPSG:2193
	Eastings, Northings, Height float64 // metres, of the model's origin
	Turn                        float64 // degrees from the map's east to the model's x axis, anticlockwise
	Scale                       float64 // from the model's length unit to the map's, as stated
}

// Ruleset names the limits that were applied.
type Ruleset struct {
	Name   string
	SHA256 string
}

// Counts says how much was looked at and how much was found.
type Counts struct {
	Hosts, Items, Sets, Anchors, Bars int
	Kinds                             map[string]int // items of each kind; may be nil
	Unchecked                         int            // places that could not be checked
	Hold, Review, Note                int            // findings of each priority
}

// Caution stands in every report that people read.
const Caution = "Geometry and ratios are compared with the stated limits only. " +
	"Local codes and a licensed engineer decide."

// NotChecked is the rule of findings that say what could not be checked.
const NotChecked = "not-checked"

// Tally counts the findings by priority, and the places that were not checked.
func (r *Run) Tally() {
	c := &r.Counts
	c.Hold, c.Review, c.Note, c.Unchecked = 0, 0, 0, 0
	for i := range r.Findings {
		f := &r.Findings[i]
		switch f.Priority {
		case Hold:
			c.Hold++
		case Review:
			c.Review++
		default:
			c.Note++
		}
		if f.Rule == NotChecked {
			c.Unchecked += len(f.Instances)
		}
	}
}

// Sorted is a copy in the order that every writer uses, whatever the order
// that findings came in: by priority, host, rule, set and id. The instances of
// a finding keep the order that its rule gave them.
func (r *Run) Sorted() *Run {
	s := *r
	s.Models = slices.Clone(r.Models)
	slices.SortStableFunc(s.Models, func(a, b ModelInfo) int {
		return cmp.Or(Natural(a.Path, b.Path), cmp.Compare(a.SHA256, b.SHA256))
	})
	s.Findings = slices.Clone(r.Findings)
	slices.SortStableFunc(s.Findings, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(b.Priority, a.Priority),
			CompareRef(a.Host, b.Host),
			cmp.Compare(a.Rule, b.Rule),
			Natural(a.Set, b.Set),
			cmp.Compare(a.ID, b.ID),
		)
	})
	return &s
}

// CompareRef orders as people list: by model, then by name, 2 before 10.
func CompareRef(a, b Ref) int {
	return cmp.Or(
		Natural(a.Model, b.Model),
		Natural(a.Name, b.Name),
		Natural(a.Mark, b.Mark),
		cmp.Compare(a.Class, b.Class),
		cmp.Compare(a.GlobalID, b.GlobalID),
	)
}

// Label is what a person finds the element by: its name, else its mark, else
// its class.
func (r Ref) Label() string {
	for _, s := range [...]string{r.Name, r.Mark, r.Class} {
		if p := Plain(s); p != "" {
			return p
		}
	}
	return "unnamed"
}
