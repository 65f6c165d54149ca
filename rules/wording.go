package rules

import (
	"slices"
	"strconv"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// itemName is what a person calls an item.
func itemName(it *model.Item) string {
	if n := refName(&it.Ref); n != "" {
		return n
	}
	if it.Size != "" {
		return finding.Plain(it.Size) + " " + it.Kind.String()
	}
	return it.Kind.String()
}

// hostName is what a person calls a host.
func hostName(h *model.Host) string {
	if n := refName(&h.Ref); n != "" {
		return n
	}
	return h.Class
}

func refName(r *model.Ref) string {
	if n := finding.Plain(r.Name); n != "" {
		return n
	}
	return finding.Plain(r.Mark)
}

// anchorName is what a person calls an anchor: "HB-1 bolt 2".
func anchorName(a *model.Anchor) string {
	it := a.Item
	if s := it.Set; s != nil && s.Name != "" && len(s.Anchors) > 1 {
		return finding.Plain(s.Name) + " " + anchorNoun(it) + " " + strconv.Itoa(slices.Index(s.Anchors, a)+1)
	}
	if len(it.Anchors) > 1 {
		return itemName(it) + " " + anchorNoun(it) + " " + strconv.Itoa(a.Index+1)
	}
	return itemName(it)
}

func anchorNoun(it *model.Item) string {
	if it.Kind == model.Plate {
		return "stud"
	}
	return kindNoun(it.Kind)
}

// kindNoun is a kind inside a sentence.
func kindNoun(k model.Kind) string {
	if k == model.Other {
		return "item"
	}
	return k.String()
}

// isUpright reports whether a face stands, so that it has a left and a right.
func isUpright(n geom.Vec) bool { return n.Z < 0.7 && n.Z > -0.7 }

// sideWord says in which direction d points on a face for somebody who stands
// before it: "left-hand", "right-hand", "upper", "lower"; "" on a face that
// lies.
func sideWord(normal, d geom.Vec) string {
	if !isUpright(normal) {
		return ""
	}
	right := geom.V(0, 0, 1).Cross(normal).Unit()
	x, z := d.Dot(right), d.Z
	switch {
	case x > 0.8:
		return "right-hand"
	case x < -0.8:
		return "left-hand"
	case z > 0.8:
		return "upper"
	case z < -0.8:
		return "lower"
	}
	return ""
}

// ref turns what the model knows an element by into what a finding carries.
func (s *shared) ref(r model.Ref) finding.Ref {
	return finding.Ref{
		GlobalID: r.GlobalID, Class: r.Class, Name: r.Name, Mark: r.Mark,
		Model: sourceName(s.m, r.Source),
	}
}
