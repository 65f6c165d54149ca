package rewrite

import (
	"fmt"
	"slices"
	"strings"
)

// Part is what goes into one of the files that a model is split into.
type Part int

// The concrete with its openings and all that is none of the others; what is
// cast in or stands on it; the reinforcement.
const (
	Concrete Part = iota
	Steel
	Bars
)

// PartNames are the names of the files that Split gives, by part.
var PartNames = [...]string{"concrete", "steel", "bars"}

var parts = map[string]Part{
	"IFCMECHANICALFASTENER": Steel, "IFCFASTENER": Steel, "IFCDISCRETEACCESSORY": Steel, "IFCPLATE": Steel,
	"IFCREINFORCINGBAR": Bars, "IFCREINFORCINGMESH": Bars, "IFCTENDON": Bars, "IFCTENDONANCHOR": Bars,
}

// Split gives a model as files that belong together. The spatial structure, types
// and materials are in each of them, elements in one; an assembly is where the first
// of its parts is, in the order of Part.
func (t *Text) Split() [3]*Text {
	where := t.partOf()
	var out [3]*Text
	for part := range out {
		out[part] = t.without(func(in *Inst) bool {
			p, ok := where[in.ID]
			return ok && p != Part(part)
		})
	}
	return out
}

// partOf is the file of each element.
func (t *Text) partOf() map[uint64]Part {
	where := map[uint64]Part{}
	for _, in := range t.Insts {
		if p, ok := parts[in.Keyword]; ok {
			where[in.ID] = p
		} else if len(in.Args) >= 8 && isElement(in, t) {
			where[in.ID] = Concrete
		}
	}
	for range 3 { // assemblies of assemblies
		t.each(func(rel *Inst) {
			whole := t.at(rel.Args[4])
			if whole == nil || whole.Keyword != "IFCELEMENTASSEMBLY" {
				return
			}
			part := Bars
			for _, v := range rel.Args[5].List {
				if in := t.at(v); in != nil {
					part = min(part, where[in.ID])
				}
			}
			where[whole.ID] = part
			for _, v := range rel.Args[5].List {
				if in := t.at(v); in != nil && part == Steel {
					where[in.ID] = Steel // a lifting insert keeps its tension bar
				}
			}
		}, "IFCRELAGGREGATES")
	}
	return where
}

// isElement reports whether an instance has a place and a shape as products have
// them, and is no part of the spatial structure.
func isElement(in *Inst, t *Text) bool {
	place := t.at(in.Args[5])
	spatial := slices.Contains([]string{"IFCSITE", "IFCBUILDING", "IFCBUILDINGSTOREY", "IFCSPACE"}, in.Keyword)
	return place != nil && strings.HasSuffix(place.Keyword, "PLACEMENT") && !spatial
}

// without is a copy that lacks some instances, and what refers to nothing else:
// members of lists go, relationships that lack an end go with all they say.
func (t *Text) without(gone func(*Inst) bool) *Text {
	lost := map[string]bool{}
	for _, in := range t.Insts {
		if gone(in) {
			lost[in.reference()] = true
		}
	}
	out := &Text{Head: t.Head, by: map[uint64]*Inst{}}
	for _, in := range t.Insts {
		if lost[in.reference()] {
			continue
		}
		c := &Inst{ID: in.ID, Keyword: in.Keyword, Args: slices.Clone(in.Args)}
		if strings.HasPrefix(in.Keyword, "IFCREL") && !c.keep(lost) {
			continue
		}
		out.add(c)
	}
	return out
}

func (in *Inst) reference() string { return fmt.Sprintf("#%d", in.ID) }

// keep takes what is lost out of the lists of a relationship; false when an end
// of it is lost.
func (in *Inst) keep(lost map[string]bool) bool {
	for i, v := range in.Args {
		if lost[v.Word] {
			return false
		}
		if !v.IsList {
			continue
		}
		left := slices.DeleteFunc(slices.Clone(v.List), func(m Value) bool { return lost[m.Word] })
		if len(left) == 0 && len(v.List) > 0 {
			return false
		}
		in.Args[i].List = left
	}
	return true
}
