package rules

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// A finding keeps its ID as long as it is the same problem. The ID is a hash of
//
//   - the rule;
//   - the host: class, mark and name and, where these do not single it out, its
//     size in its own frame;
//   - the place of the set: the kinds of its items, the directions of its
//     anchors, and the middle of their entry points (items without anchors:
//     their own middles), to about 100 mm, in the host's own frame, from the
//     corner of the host's box before openings are taken out;
//   - a number among sets that all this does not tell apart, such as those of
//     panels cast from one drawing, counted by their place in the world.
//
// So it changes when a set moves to another place, and rarely when it moves a
// little: when its middle crosses from one bucket to the next. It does not change
// when the building moves, when GlobalIds, file names or the order of instances
// do, when a bolt gets longer, an opening comes nearer, a bolt is added inside
// the set, or other anchors of the set fail the rule as well.
//
// Items without a host are placed in the world. What could not be read has no
// place: its role, class, mark and name stand for it.

// hostID is how a host is told from others.
type hostID struct {
	text  string
	frame geom.Affine // of its box's least corner
}

func hostIDs(m *model.Model) map[*model.Host]hostID {
	ids := map[*model.Host]hostID{nil: {frame: geom.Identity.Shift(m.Origin.Neg())}}
	count := map[string]int{}
	for _, h := range m.Hosts {
		count[hostLabel(h)]++
	}
	add := func(h *model.Host) {
		if _, ok := ids[h]; ok {
			return
		}
		f, size := hostFrame(h)
		text := hostLabel(h)
		if count[text] != 1 {
			text += fmt.Sprintf("|%d x %d x %d", bucket(size.X), bucket(size.Y), bucket(size.Z))
		}
		ids[h] = hostID{text, f}
	}
	for _, h := range m.Hosts {
		add(h)
	}
	for _, it := range m.Items {
		add(it.Host)
	}
	return ids
}

func hostLabel(h *model.Host) string { return h.Class + "|" + h.Mark + "|" + h.Name }

// hostFrame is the host's own frame moved to the least corner of its box in
// that frame, and the size of the box.
func hostFrame(h *model.Host) (geom.Affine, geom.Vec) {
	b := geom.EmptyBox
	f := h.Frame
	if f.Det() == 0 {
		f = geom.Identity
	}
	switch {
	case h.Body != nil:
		for _, v := range h.Body.Verts {
			b = b.Add(f.Local(v))
		}
	case !h.Box.Empty():
		for _, v := range h.Box.Corners() {
			b = b.Add(f.Local(v))
		}
	default:
		b = geom.BoxOf(geom.Vec{})
	}
	f.T = f.Apply(b.Min)
	return f, b.Size()
}

// place is the part of a group's key that says where its items are.
func (g *group) place(id hostID) string {
	var kinds, headings []string
	where := geom.EmptyBox
	for _, it := range g.main() {
		kinds = append(kinds, it.Kind.String())
		for _, a := range it.Anchors {
			d := geom.Vec{X: a.Dir.Dot(id.frame.X), Y: a.Dir.Dot(id.frame.Y), Z: a.Dir.Dot(id.frame.Z)}
			headings = append(headings, heading(d))
			where = where.Add(id.frame.Local(entryPoint(a)))
		}
		if len(it.Anchors) == 0 && !it.Box.Empty() {
			where = where.Add(id.frame.Local(it.Middle()))
		}
	}
	p := where.Center()
	if where.Empty() {
		p = geom.Vec{}
	}
	return fmt.Sprintf("|%s|%s|%d,%d,%d", distinct(kinds), distinct(headings), bucket(p.X), bucket(p.Y), bucket(p.Z))
}

// distinct are the texts of a list, sorted, each once.
func distinct(list []string) string {
	slices.Sort(list)
	return strings.Join(slices.Compact(list), " ")
}

// main are the items that a set is placed by: without its nuts and washers and
// its template, as far as there is something else.
func (g *group) main() []*model.Item {
	var out []*model.Item
	for _, it := range g.items {
		if !it.Twin && it.Kind != model.Fitting && it.Kind != model.Template {
			out = append(out, it)
		}
	}
	if len(out) == 0 {
		return g.items
	}
	return out
}

// entryPoint is where an anchor enters its host, or its open end.
func entryPoint(a *model.Anchor) geom.Vec {
	if a.Entry != nil {
		return a.Entry.Point
	}
	return a.Open
}

// heading is a direction in words: which axes it follows, roughly. The borders
// lie at 14, 41, 49 and 76 degrees to an axis, where anchors are rare.
func heading(d geom.Vec) string {
	var s strings.Builder
	for i, v := range [3]float64{d.X, d.Y, d.Z} {
		switch {
		case v > 0.75:
			s.WriteString("+")
		case v < -0.75:
			s.WriteString("-")
		case v > 0.25:
			s.WriteString("/")
		case v < -0.25:
			s.WriteString("\\")
		default:
			continue
		}
		s.WriteByte("xyz"[i])
	}
	return s.String()
}

// fingerprint is the ID of the finding of a rule about a group.
func (g *group) fingerprint(rule string) string {
	return fingerprint(rule, g.key, g.twin)
}

func fingerprint(rule, key string, twin int) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\n%s\n%d", rule, key, twin))
	return hex.EncodeToString(sum[:16])
}
