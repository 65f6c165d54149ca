package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// remarks are what people have to know of several files as one federation: files
// that are the same, elements of different files with one GlobalId, and files
// that lie somewhere else than the others.
func remarks(m *model.Model) []string {
	if len(m.Sources) < 2 {
		return nil
	}
	return slices.Concat(sameFiles(m), sharedIDs(m), apart(m))
}

func sameFiles(m *model.Model) []string {
	var out []string
	for i, s := range m.Sources {
		k := slices.IndexFunc(m.Sources, func(o model.Source) bool { return o.SHA256 == s.SHA256 })
		if k < i {
			out = append(out, fmt.Sprintf("%s and %s are the same file, so that everything in it counts twice; leave one out", m.Sources[k].Name, s.Name))
		}
	}
	return out
}

// sharedIDs counts the GlobalIds that hosts and items of two files have in
// common. Findings tell them apart; BCF viewers cannot.
func sharedIDs(m *model.Model) []string {
	type pair struct{ a, b int }
	first := map[string]int{} // GlobalId -> source
	count, example := map[pair]int{}, map[pair]string{}
	see := func(r *model.Ref) {
		k, ok := first[r.GlobalID]
		switch {
		case r.GlobalID == "":
		case !ok:
			first[r.GlobalID] = r.Source
		case k != r.Source && m.Sources[k].SHA256 != m.Sources[r.Source].SHA256:
			p := pair{min(k, r.Source), max(k, r.Source)}
			count[p]++
			if e := example[p]; e == "" || r.GlobalID < e {
				example[p] = r.GlobalID
			}
		}
	}
	for _, h := range m.Hosts {
		see(&h.Ref)
	}
	for _, it := range m.Items {
		see(&it.Ref)
	}
	var out []string
	for a := range m.Sources {
		for b := range m.Sources {
			if n := count[pair{a, b}]; n > 0 {
				out = append(out, fmt.Sprintf("%s and %s have %d GlobalIds in common, such as %s; findings tell the elements apart by their files, "+
					"BCF viewers may show both", m.Sources[a].Name, m.Sources[b].Name, n, example[pair{a, b}]))
			}
		}
	}
	return out
}

// touching is how near, in mm, the boxes of two files have to be to count as one
// place: a wall stands on grout, and a stair in a joint.
const touching = 1000

// apart tells of files whose hosts, items and bars lie somewhere else than those
// of the others: those not in the place where most is.
func apart(m *model.Model) []string {
	boxes, weight := extents(m)
	place := make([]int, len(boxes)) // the first file of each file's place
	for i := range place {
		place[i] = i
	}
	for i := range boxes {
		for j := range i {
			if place[i] != place[j] && boxes[i].Grow(touching).Overlaps(boxes[j]) {
				from, to := max(place[i], place[j]), min(place[i], place[j])
				for k := range place {
					if place[k] == from {
						place[k] = to
					}
				}
			}
		}
	}
	heavy := map[int]int{}
	for i, p := range place {
		heavy[p] += weight[i]
	}
	main := slices.MaxFunc(place, func(a, b int) int { return cmp.Or(cmp.Compare(heavy[a], heavy[b]), cmp.Compare(b, a)) })
	type pair struct{ main, other int }
	var far []pair
	for i, p := range place {
		if k := nearest(boxes, place, main, i); p != main && k >= 0 && !boxes[i].Empty() {
			far = append(far, pair{k, i})
		}
	}
	slices.SortStableFunc(far, func(a, b pair) int {
		return cmp.Compare(gap(boxes[b.main], boxes[b.other]).Norm(), gap(boxes[a.main], boxes[a.other]).Norm())
	})
	var out []string
	for _, p := range far[:min(len(far), maxApart)] {
		out = append(out, apartText(m, boxes, p.main, p.other))
	}
	if more := len(far) - maxApart; more > 0 {
		out = append(out, fmt.Sprintf("%d more of the models lie apart from the others, less far", more))
	}
	return out
}

// maxApart is how many files that lie apart are told of, the farthest first: shop
// models of single panels all do.
const maxApart = 3

// extents are the boxes around what was recognised in each file, in local
// coordinates, and how much that is.
func extents(m *model.Model) (boxes []geom.Box, weight []int) {
	boxes, weight = make([]geom.Box, len(m.Sources)), make([]int, len(m.Sources))
	for i := range boxes {
		boxes[i] = geom.EmptyBox
	}
	add := func(source int, b geom.Box) {
		if !b.Empty() && b.Min.Finite() && b.Max.Finite() {
			boxes[source] = boxes[source].Union(b)
			weight[source]++
		}
	}
	for _, h := range m.Hosts {
		add(h.Source, h.Box)
	}
	for _, it := range m.Items {
		add(it.Source, it.Box)
	}
	for i, p := range m.Bars.Pieces {
		add(int(m.Bars.Marks[p.Mark].Source), geom.BoxOf(m.Bars.Path(i)...))
	}
	for _, b := range m.Bars.Meshes {
		add(int(m.Bars.Marks[b.Mark].Source), b.Box)
	}
	return boxes, weight
}

// nearest is the file of a place that is nearest to file i; -1 when there is none.
func nearest(boxes []geom.Box, place []int, at, i int) int {
	found := -1
	for k := range boxes {
		if place[k] == at && !boxes[k].Empty() && (found < 0 || gap(boxes[k], boxes[i]).Norm() < gap(boxes[found], boxes[i]).Norm()) {
			found = k
		}
	}
	return found
}

// gap is the way from the nearest point of a box to that of another.
func gap(a, b geom.Box) geom.Vec {
	along := func(aMin, aMax, bMin, bMax float64) float64 {
		switch {
		case bMin > aMax:
			return bMin - aMax
		case aMin > bMax:
			return bMax - aMin
		}
		return 0
	}
	return geom.Vec{
		X: along(a.Min.X, a.Max.X, b.Min.X, b.Max.X),
		Y: along(a.Min.Y, a.Max.Y, b.Min.Y, b.Max.Y),
		Z: along(a.Min.Z, a.Max.Z, b.Min.Z, b.Max.Z),
	}
}

func apartText(m *model.Model, boxes []geom.Box, k, i int) string {
	g := gap(boxes[k], boxes[i])
	var ways []string
	for n, d := range [3]float64{g.X, g.Y, g.Z} {
		if math.Abs(d) >= 0.5 {
			ways = append(ways, fmt.Sprintf("%c %+.1f m", "xyz"[n], d/1000))
		}
	}
	a, b := m.Sources[k], m.Sources[i]
	text := fmt.Sprintf("%s lies %.1f m from %s, the nearest of the other models (%s): nothing of the one is measured to the other. "+
		"If they belong together, their origins differ; export them from the same one", b.Name, g.Norm()/1000, a.Name, strings.Join(ways, ", "))
	if a.Map != nil && b.Map != nil && *a.Map != *b.Map {
		text += fmt.Sprintf(". Their map positions differ, too: E %.3f m, N %.3f m and E %.3f m, N %.3f m",
			a.Map.Eastings, a.Map.Northings, b.Map.Eastings, b.Map.Northings)
	}
	return text
}
