package setout

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// pattern dimensions the anchors of a set from axis to axis: along the rows of a
// grid in both directions, else around the set; and across it.
func (t *taker) pattern(taped bool) {
	n := len(t.s.Anchors)
	if n < 2 {
		return
	}
	at := make([]geom.Vec2, n)
	for i := range t.s.Anchors {
		at[i] = t.s.Face.flat(t.s.Anchors[i].At)
	}
	pairs, across := grid(at)
	if pairs == nil {
		pairs, across = ring(at)
	}
	for _, p := range pairs {
		t.pair(Spacing, p, taped)
	}
	for _, p := range across {
		t.pair(Diagonal, p, taped)
	}
}

func (t *taker) pair(q Quantity, p [2]int, taped bool) {
	a, b := &t.s.Anchors[p[0]], &t.s.Anchors[p[1]]
	to := b.At
	flat := func(v geom.Vec) geom.Vec2 { return t.s.Face.flat(v) }
	text := "centres of "
	if q == Diagonal {
		text = "diagonal of "
	}
	t.add(Dim{
		What: fmt.Sprintf("%s %d-%d", q, a.Number, b.Number), Text: text + a.Mark + " and " + b.Mark, Quantity: q, MM: flat(a.At).Dist(flat(to)),
		Tol: t.tol.of(Centres, a.Item.Kind), Taped: taped, From: a.At, To: to, Items: []*model.Item{a.Item, b.Item}, Anchors: []int{a.Number, b.Number},
	})
}

// grid is the neighbours along the rows and columns that places lie in, and the
// two diagonals between the outermost four; nil when they are no such rows.
func grid(at []geom.Vec2) (pairs, across [][2]int) {
	x := lines(at, func(p geom.Vec2) float64 { return p.X })
	y := lines(at, func(p geom.Vec2) float64 { return p.Y })
	cell := map[[2]int]int{}
	for i := range at {
		c := [2]int{x[i], y[i]}
		if _, ok := cell[c]; ok {
			return nil, nil
		}
		cell[c] = i
	}
	cols, rows := slices.Max(x)+1, slices.Max(y)+1
	next := func(along, line int, of []int, key func(along, line int) [2]int) {
		last := -1
		for i := range along {
			if k, ok := cell[key(i, line)]; ok {
				if last >= 0 {
					pairs = append(pairs, [2]int{last, k})
				}
				last = k
			}
		}
	}
	for r := range rows {
		next(cols, r, x, func(i, line int) [2]int { return [2]int{i, line} })
	}
	for c := range cols {
		next(rows, c, y, func(i, line int) [2]int { return [2]int{line, i} })
	}
	if !joined(len(at), pairs) {
		return nil, nil
	}
	if cols > 1 && rows > 1 {
		for _, d := range [2][2][2]int{{{0, 0}, {cols - 1, rows - 1}}, {{cols - 1, 0}, {0, rows - 1}}} {
			i, ok := cell[d[0]]
			k, ok2 := cell[d[1]]
			if ok && ok2 {
				across = append(across, [2]int{i, k})
			}
		}
	}
	return pairs, across
}

// lines numbers the lines that places lie on: those whose values are less than
// a row's play apart are on one.
func lines(at []geom.Vec2, value func(geom.Vec2) float64) []int {
	order := make([]int, len(at))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(value(at[a]), value(at[b])) })
	out := make([]int, len(at))
	line := 0
	for k, i := range order {
		if k > 0 && value(at[i])-value(at[order[k-1]]) > rowPlay {
			line++
		}
		out[i] = line
	}
	return out
}

// joined reports whether pairs tie all places together.
func joined(n int, pairs [][2]int) bool {
	group := make([]int, n)
	for i := range group {
		group[i] = i
	}
	for _, p := range pairs {
		from, to := group[p[1]], group[p[0]]
		for i := range group {
			if group[i] == from {
				group[i] = to
			}
		}
	}
	for _, g := range group {
		if g != group[0] {
			return false
		}
	}
	return true
}

// ring is the neighbours around the middle of places, and those that lie
// opposite.
func ring(at []geom.Vec2) (pairs, across [][2]int) {
	var mid geom.Vec2
	for _, p := range at {
		mid = mid.Add(p.Mul(1 / float64(len(at))))
	}
	order := make([]int, len(at))
	for i := range order {
		order[i] = i
	}
	angle := func(i int) float64 {
		d := at[i].Sub(mid)
		a := math.Atan2(d.Y, d.X)
		return math.Round(a*1e6) / 1e6
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(angle(a), angle(b)), cmp.Compare(at[a].Dist(mid), at[b].Dist(mid)))
	})
	n := len(order)
	add := func(list [][2]int, i, k int) [][2]int { return append(list, [2]int{min(i, k), max(i, k)}) }
	for k := range order {
		if k+1 < n || n > 2 {
			pairs = add(pairs, order[k], order[(k+1)%n])
		}
	}
	if n >= 4 && n%2 == 0 {
		for k := range n / 2 {
			across = add(across, order[k], order[k+n/2])
		}
	}
	for _, l := range [2][][2]int{pairs, across} {
		slices.SortFunc(l, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	}
	return pairs, across
}
