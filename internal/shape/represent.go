package shape

import (
	"fmt"
	"slices"
	"strings"

	"embedcheck/ifcread"
	"embedcheck/internal/geom"
)

var (
	tProductShape   = ifcread.TypeOf("IfcProductDefinitionShape")
	tRepresentation = ifcread.TypeOf("IfcShapeRepresentation")
)

// maxParts bounds the parts of one shape, so that maps that use each other again
// and again cannot fill the memory.
const maxParts = 10_000

// Shape is the body of a product: its representation "Body"; failing that,
// or when something in that cannot be read, a tessellated copy of it; failing
// those, one without a name that holds solids. Axes, footprints, bounding
// boxes, clearances and references are no bodies. A product without any
// representation has a Shape without parts and without unread items.
func (r *Reader) Shape(product ifcread.Inst) *Shape {
	var best *Shape
	for _, group := range r.candidates(product) {
		s := r.together(group)
		if len(s.Unread) == 0 && len(s.Parts) > 0 {
			return s
		}
		if best == nil || len(s.Parts) > 0 && len(best.Parts) == 0 {
			best = s
		}
	}
	if best == nil {
		return &Shape{}
	}
	return best
}

// together is the shape of several representations, one file's way of writing
// one body.
func (r *Reader) together(reps []ifcread.Inst) *Shape {
	if len(reps) == 1 {
		return r.body(reps[0], nil)
	}
	sum := &Shape{}
	for _, rep := range reps {
		s := r.body(rep, nil)
		sum.Parts = append(sum.Parts, s.Parts...)
		sum.Unread = append(sum.Unread, s.Unread...)
	}
	return sum
}

// candidates are the representations that may be the body, the best first.
// Those of one name in one context belong together.
func (r *Reader) candidates(product ifcread.Inst) [][]ifcread.Inst {
	def, ok := product.Attr("Representation").Inst()
	if !ok {
		return nil
	}
	type candidate struct {
		rank int
		ctx  ifcread.ID
		reps []ifcread.Inst
	}
	var found []candidate
	for v := range def.Arg(2).All() {
		rep, ok := v.Inst()
		if !ok || rep.Type() != tRepresentation {
			continue
		}
		rank := bodyRank(text(rep.Arg(1)), text(rep.Arg(2)))
		if rank == noBody {
			continue
		}
		var ctx ifcread.ID
		if c, ok := rep.Arg(0).Inst(); ok {
			ctx = c.ID()
		}
		i := slices.IndexFunc(found, func(c candidate) bool { return c.rank == rank && c.ctx == ctx })
		if i < 0 {
			found = append(found, candidate{rank: rank, ctx: ctx})
			i = len(found) - 1
		}
		found[i].reps = append(found[i].reps, rep)
	}
	slices.SortStableFunc(found, func(a, b candidate) int { return a.rank - b.rank })
	out := make([][]ifcread.Inst, len(found))
	for i, c := range found {
		out[i] = c.reps
	}
	return out
}

// noBody is the rank of a representation that is no body.
const noBody = -1

// bodyRank says how well a representation's identifier and type fit a body,
// 0 best.
func bodyRank(id, kind string) int {
	switch strings.ToLower(strings.TrimSpace(id)) {
	case "body":
		return 0
	case "body-fallback", "body-fall back", "body-fallback-mesh":
		return 1
	case "facetation", "tessellation", "mesh", "model", "solid":
		return 2
	case "axis", "box", "footprint", "annotation", "clearance", "reference", "profile", "surface",
		"cog", "row", "plan", "survey", "lighting", "light", "symbol", "elevation", "section":
		return noBody
	}
	if isSolidType(kind) {
		return 3
	}
	return noBody
}

// isSolidType reports whether a RepresentationType promises solids.
func isSolidType(kind string) bool {
	switch strings.ToLower(strings.TrimSpace(kind)) {
	case "sweptsolid", "advancedsweptsolid", "brep", "advancedbrep", "csg", "clipping", "tessellation",
		"solidmodel", "surfacemodel", "surfaceorsolidmodel", "mappedrepresentation":
		return true
	}
	return false
}

// trail is the maps above a representation, to notice one that holds itself.
type trail struct {
	id    ifcread.ID
	depth int
	up    *trail
}

// maxMaps bounds how deep maps may nest.
const maxMaps = 1000

func (t *trail) below(id ifcread.ID) *trail {
	if t == nil {
		return &trail{id: id}
	}
	return &trail{id: id, depth: t.depth + 1, up: t}
}

func (t *trail) has(id ifcread.ID) bool {
	for ; t != nil; t = t.up {
		if t.id == id {
			return true
		}
	}
	return false
}

// body is the shape of one representation, kept by its instance. One that leads
// back to itself, at whatever distance, is unread as a whole: so it does not
// matter from where the cycle is met first.
func (r *Reader) body(rep ifcread.Inst, above *trail) *Shape {
	if s, ok := r.bodies.get(rep.ID()); ok {
		return s
	}
	here := above.below(rep.ID())
	switch {
	case above.has(rep.ID()):
		return refused(rep, endless)
	case here.depth > maxMaps:
		return refused(rep, fmt.Sprintf("more than %d maps are nested", maxMaps))
	}
	s := &Shape{}
	for v := range rep.Arg(3).All() {
		item, ok := v.Inst()
		if !ok {
			s.unread(rep, bad(rep, "one of its items is not in the file"))
			continue
		}
		r.item(s, item, here)
		if s.refused == "" && len(s.Parts)+len(s.Unread) > maxParts {
			s.refused = fmt.Sprintf("it has more than %d parts", maxParts)
		}
		if s.refused != "" {
			s = refused(rep, s.refused)
			break
		}
	}
	if len(s.Parts) == 0 && len(s.Unread) == 0 {
		s.unread(rep, bad(rep, "it has no items"))
	}
	return r.bodies.put(rep.ID(), s)
}

const endless = "its maps lead back to themselves"

// refused is the shape of a representation that is unread as a whole, and so
// are all that map it.
func refused(rep ifcread.Inst, why string) *Shape {
	s := &Shape{refused: why}
	s.unread(rep, bad(rep, "%s", why))
	return s
}

func (s *Shape) unread(in ifcread.Inst, err error) {
	s.Unread = append(s.Unread, Unread{Item: in, ItemType: in.Name(), Why: reason(in, err)})
}

// item adds one item of a representation to s.
func (r *Reader) item(s *Shape, item ifcread.Inst, above *trail) {
	if item.Type() == tMappedItem {
		r.mapped(s, item, above)
		return
	}
	solid, err := r.solid(item, 0)
	if err != nil {
		s.unread(item, err)
		return
	}
	s.Parts = append(s.Parts, Part{Solid: solid, At: geom.Identity.Shift(solid.origin), Item: item})
}
