package ifcread

import (
	"bytes"
	"strconv"
	"strings"
)

// emit writes an instance as a statement.
func (x *xmlReader) emit(fr *xmlFrame) {
	x.relate(fr)
	at := len(x.out)
	x.out = append(x.out, '#')
	x.out = strconv.AppendUint(x.out, uint64(fr.id), 10)
	x.out = append(x.out, '=')
	x.out = append(x.out, fr.keyword...)
	x.out = append(x.out, '(')
	attrs := x.f.Attrs(fr.typ)
	for k, text := range fr.args {
		switch {
		case text == "" && attrs[k].Derived:
			text = "*"
		case text == "":
			text = "$"
		}
		if k > 0 {
			x.out = append(x.out, ',')
		}
		x.out = append(x.out, text...)
	}
	x.out = append(x.out, ");\n"...)
	x.places.lines = append(x.places.lines, fr.line)
	x.places.offsets = append(x.places.offsets, fr.offset)
	x.flush(fr, at)
}

// fault notes something wrong in an instance that is still open.
func (x *xmlReader) fault(fr *xmlFrame, w why, note string) {
	unknown := fr.kind == frameEntity && fr.typ == 0 // which is told by itself
	if len(fr.faults) < maxFaults && !unknown {
		fr.faults = append(fr.faults, fault{id: fr.id, why: w, note: note[:min(len(note), 200)]})
	}
}

// flush reports what was wrong in an instance, now that its place is known.
func (x *xmlReader) flush(fr *xmlFrame, at int) {
	for _, f := range fr.faults {
		f.at = at
		x.f.faults.add(f)
	}
}

// relate states the attribute of a relationship that the place of its element
// says: inside the instance that it refers to, under the name of an inverse.
func (x *xmlReader) relate(fr *xmlFrame) {
	n := len(x.stack)
	if n < 2 || x.stack[n-1].kind != frameInverse {
		return
	}
	inverse, owner := x.stack[n-1].inverse, &x.stack[n-2]
	for _, name := range inverses[inverse] {
		k := x.f.Pos(fr.typ, name)
		if k < 0 {
			continue
		}
		if fr.args[k] == "" {
			fr.args[k] = x.reference(fr.typ, k, owner.id)
		}
		return
	}
	if k := x.onlyOne(fr, owner); k >= 0 {
		fr.args[k] = x.reference(fr.typ, k, owner.id)
		return
	}
	x.fault(fr, whyElement, inverse)
}

func (x *xmlReader) reference(t Type, k int, id ID) string {
	ref := "#" + strconv.FormatUint(uint64(id), 10)
	if _, _, isList := x.f.Attrs(t)[k].form.list(); isList {
		return "(" + ref + ")"
	}
	return ref
}

// onlyOne is the one attribute of a relationship that is not stated, has to be,
// and may refer to the owner; -1 when there are none or several.
func (x *xmlReader) onlyOne(fr, owner *xmlFrame) int {
	found := -1
	for k, a := range x.f.Attrs(fr.typ) {
		name := a.form.entity()
		if name == "" || a.Optional || fr.args[k] != "" || !x.f.IsA(owner.typ, TypeOf(name)) {
			continue
		}
		if found >= 0 {
			return -1
		}
		found = k
	}
	return found
}

// inverses are the attributes that inverse ones are the inverse of, by the EXPRESS
// schemas of IFC2X3, IFC4 and IFC4X3 (from memory; a wrong name leaves the choice
// to onlyOne). Where a name serves several relationships, the first attribute
// that the relationship has is meant.
var inverses = inverseTable(`
AssociatedTo RelatingMaterial
BoundedBy RelatingSpace
ConnectedFrom RelatedElement
ConnectedTo RelatingElement RelatingPort
ContainedIn RelatingPort
ContainedInStructure RelatedElements
ContainsElements RelatingStructure
Controls RelatingControl
Covers RelatedCoverings
CoversElements RelatedCoverings
CoversSpaces RelatedCoverings
Declares RelatingContext RelatingObject
Decomposes RelatedObjects
DefinesOccurrence RelatingPropertyDefinition
Defines RelatingTemplate
FillsVoids RelatedBuildingElement
HasAssignments RelatedObjects
HasAssociations RelatedObjects
HasColours MappedTo
HasContext RelatedDefinitions
HasCoordinateOperation SourceCRS
HasCoverings RelatingBuildingElement RelatingSpace
HasFillings RelatingOpeningElement
HasOpenings RelatingBuildingElement
HasPorts RelatedElement RelatingObject
HasProjections RelatingElement
HasProperties ProfileDefinition Material ProfileProperties
HasRepresentation RepresentedMaterial
HasShapeAspects PartOfProductDefinitionShape
HasSubContexts ParentContext
HasSurfaceFeatures RelatingElement
HasTextures MappedTo
InterferesElements RelatingElement
IsActingUpon RelatingActor
IsConnectionRealization RealizingElements
IsDeclaredBy RelatedObjects
IsDecomposedBy RelatingObject
IsDefinedBy RelatedObjects RelatedPropertySets
IsGroupedBy RelatingGroup
IsInterferedByElements RelatedElement
IsNestedBy RelatingObject
IsPredecessorTo RelatingProcess
IsSuccessorFrom RelatedProcess
IsTypedBy RelatedObjects
LayerAssignment AssignedItems
LayerAssignments AssignedItems
Nests RelatedObjects
ObjectTypeOf RelatingType
OfShapeAspect ShapeRepresentations
OperatesOn RelatingProcess
PlacesObject ObjectPlacement
ProjectsElements RelatedFeatureElement
PropertyDefinitionOf RelatingPropertyDefinition
ProvidesBoundaries RelatedBuildingElement
ReferencedBy RelatingProduct
ReferencedByPlacements PlacementRelTo
ReferencedInStructures RelatedElements
ReferencesElements RelatingStructure
RelatesTo RelatingMaterial
RepresentationMap MappedRepresentation
RepresentationsInContext ContextOfItems
ResourceOf RelatingResource
ServicesBuildings RelatingSystem
StyledByItem Item
Types RelatingType
VoidsElements RelatedOpeningElement
`)

func inverseTable(text string) map[string][]string {
	table := map[string][]string{}
	for line := range strings.Lines(text) {
		if w := strings.Fields(line); len(w) > 1 {
			table[w[0]] = w[1:]
		}
	}
	return table
}

// number is the number of the instance with an id: the id's own, "i412" and
// "_412" being 412, when no other id has it. Without an id it is a new one.
func (x *xmlReader) number(id string) ID {
	if n, ok := x.numbers[id]; ok && id != "" {
		return n
	}
	n := idNumber([]byte(id))
	if n == 0 || x.taken[n] {
		for x.last++; x.taken[x.last]; x.last++ {
		}
		n = x.last
		if id != "" {
			x.places.ids[n] = id
		}
	}
	if id != "" {
		x.numbers[id], x.taken[n] = n, true
	}
	return n
}

// idNumber is the number in an id of at most four letters and 15 digits; 0 for
// ids of another form.
func idNumber(id []byte) ID {
	digits := bytes.TrimLeft(id, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_-.")
	n, k := instanceNumber(digits)
	if len(id)-len(digits) > 4 || k != len(digits) || k > 15 || k == 0 {
		return 0
	}
	return n
}

// highestID is the highest number among what looks like ids, so that instances
// without one get numbers behind them.
func highestID(text []byte) ID {
	highest := ID(0)
	for {
		k := bytes.Index(text, []byte("id="))
		if k < 0 || k+4 > len(text) {
			return highest
		}
		mark := text[k+3]
		text = text[k+4:]
		if end := bytes.IndexByte(text[:min(len(text), 32)], mark); end >= 0 {
			highest = max(highest, idNumber(text[:end]))
		}
	}
}
