package recognise

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/rod"
)

// This file puts bent bars together that are modelled as a row of straight rods,
// each a solid of its own: the short ones in the bend are no discs.

// rodEnd is one end of a rod: where it is, and the direction out of it.
type rodEnd struct {
	piece int
	last  bool
	at    geom.Vec
	out   geom.Vec
}

// joinBends is the pieces with rods that go on in each other by a small turn made
// one. An end that two others could go on from is left alone.
func joinBends(pieces []piece) []piece {
	next := bendPartners(pieces)
	if next == nil {
		return pieces
	}
	var out []piece
	done := make([]bool, len(pieces))
	for i := range pieces {
		first := 2 * i
		if done[i] || next[first] >= 0 && next[first+1] >= 0 {
			continue // reached, or to be reached, from an end of its row
		}
		if next[first] >= 0 {
			first++
		}
		out = append(out, rodRow(pieces, next, done, first))
	}
	for i := range pieces { // rings have no end
		if !done[i] {
			out = append(out, pieces[i])
		}
	}
	return out
}

// bendPartners is for each end, two a piece, the end that its bar goes on from,
// -1 for none; nil when no bar goes on.
func bendPartners(pieces []piece) []int {
	var ends []rodEnd
	for i := range pieces {
		r := pieces[i].body.Rod
		if r == nil || len(r.Path) < 2 {
			continue
		}
		n := len(r.Path)
		ends = append(ends,
			rodEnd{i, false, r.Path[0], r.Path[0].Sub(r.Path[1]).Unit()},
			rodEnd{i, true, r.Path[n-1], r.Path[n-1].Sub(r.Path[n-2]).Unit()})
	}
	next := slices.Repeat([]int{-1}, 2*len(pieces))
	met := make([]int, len(next))
	for k := range ends {
		for l := k + 1; l < len(ends); l++ {
			if a, b := &ends[k], &ends[l]; a.goesOn(b, pieces) {
				next[a.number()], next[b.number()] = b.number(), a.number()
				met[a.number()]++
				met[b.number()]++
			}
		}
	}
	any := false
	for e := range next {
		if p := next[e]; p >= 0 && (met[e] > 1 || met[p] > 1) {
			next[e], next[p] = -1, -1
		}
		any = any || next[e] >= 0
	}
	if !any {
		return nil
	}
	return next
}

func (e *rodEnd) number() int {
	if e.last {
		return 2*e.piece + 1
	}
	return 2 * e.piece
}

// goesOn reports whether two ends are one place in a bend. Straight pieces in a
// row are told elsewhere, since threads and sockets differ in thickness; pieces
// at a right angle are a hook of its own.
func (e *rodEnd) goesOn(o *rodEnd, pieces []piece) bool {
	p, q := &pieces[e.piece], &pieces[o.piece]
	r, s := p.body.Rod, q.body.Rod
	turn := -e.out.Dot(o.out)
	return e.piece != o.piece && p.elem == q.elem &&
		math.Abs(r.Radius-s.Radius) <= 0.01*r.Radius && math.Abs(r.Inner-s.Inner) <= 0.01*r.Radius &&
		e.at.Dist(o.at) <= 0.02*r.Radius+0.02 &&
		turn >= math.Cos(math.Pi/180*46) && turn <= math.Cos(math.Pi/180*0.5)
}

// rodRow follows a row of rods from one of its ends and makes it one piece.
func rodRow(pieces []piece, next []int, done []bool, from int) piece {
	first := pieces[from/2]
	if done[from/2] = true; next[from^1] < 0 {
		return first
	}
	r := *first.body.Rod
	r.Path = nil
	for e := from; e >= 0; e = next[e^1] {
		done[e/2] = true
		path := slices.Clone(pieces[e/2].body.Rod.Path)
		if e&1 == 1 {
			slices.Reverse(path)
		}
		if len(r.Path) > 0 {
			path = path[1:]
		}
		r.Path = append(r.Path, path...)
	}
	return piece{first.elem, model.Body{Rod: &r, Box: r.Box()}, rod.FromRod(r)}
}
