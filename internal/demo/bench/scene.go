package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// barsOfItem is how many bars there are for each item, a usual share in precast
// models with reinforcement.
const barsOfItem = 20

// layout is a way that bars and items may lie: what an index is good at in one
// it may be bad at in another. Each is as dense for many bars as for few, so
// that the number of clashes grows as the number of bars does.
type layout struct {
	name string
	bar  func(i, n int, r *rand.Rand) (from, to geom.Vec)
	item func(i, n int, r *rand.Rand) (from, to geom.Vec)
}

const (
	barLength  = 3000.0
	barSpacing = 150.0
	rowLength  = 1000 // bars in a row, one row behind the other
)

var layouts = []layout{
	{"rows", func(i, _ int, _ *rand.Rand) (from, to geom.Vec) {
		from = geom.V(float64(i%rowLength)*barSpacing, float64(i/rowLength)*2*barLength, 0)
		return from, from.Add(geom.V(0, barLength, 0))
	}, func(i, _ int, _ *rand.Rand) (from, to geom.Vec) {
		k := i * barsOfItem
		return upright(geom.V((float64(k%rowLength)+0.5)*barSpacing, float64(k/rowLength)*2*barLength+500, 0), i)
	}},
	// All bars lie over one another: in plan nothing tells them apart.
	{"one stack", func(i, _ int, _ *rand.Rand) (from, to geom.Vec) {
		from = geom.V(float64(i%barsOfItem)*barSpacing, 0, float64(i/barsOfItem)*barSpacing)
		return from, from.Add(geom.V(0, barLength, 0))
	}, func(i, _ int, _ *rand.Rand) (from, to geom.Vec) {
		return upright(geom.V(0.5*barSpacing, 500, float64(i)*barSpacing), i)
	}},
	{"random", func(_, n int, r *rand.Rand) (from, to geom.Vec) {
		from = inCube(n, r)
		return from, from.Add(direction(r).Mul(barLength * r.Float64()))
	}, func(_, n int, r *rand.Rand) (from, to geom.Vec) {
		from = inCube(n, r)
		return from, from.Add(direction(r).Mul(200))
	}},
}

// upright is an item between two bars, and every fiftieth at the next bar.
func upright(at geom.Vec, i int) (from, to geom.Vec) {
	if i%50 == 0 {
		at.X += barSpacing/2 - 25
	}
	return at.Add(geom.V(0, 0, 50)), at.Sub(geom.V(0, 0, 50))
}

// inCube is a place in a cube that holds one bar in each half cubic metre.
func inCube(n int, r *rand.Rand) geom.Vec {
	side := 1000 * math.Cbrt(float64(n)/2)
	return geom.V(r.Float64(), r.Float64(), r.Float64()).Mul(side)
}

func direction(r *rand.Rand) geom.Vec {
	return geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
}

// newScene is a model of n bars and the items among them, made by hand: no file
// is read, so that the rules alone are measured.
func newScene(n int, name string) (*model.Model, error) {
	for _, l := range layouts {
		if l.name == name {
			return l.scene(n), nil
		}
	}
	return nil, fmt.Errorf("there is no layout %q", name)
}

func (l layout) scene(n int) *model.Model {
	r := rand.New(rand.NewPCG(1, 2))
	m := &model.Model{Sources: []model.Source{{Path: "bars.ifc", Name: "bars.ifc"}}}
	m.Bars.Resolve = []func(uint64) model.Ref{func(i uint64) model.Ref {
		return model.Ref{GlobalID: fmt.Sprintf("bar-%d", i), Class: "IfcReinforcingBar", Name: fmt.Sprintf("N12-%d", i), Instance: i}
	}}
	for i := range n {
		from, to := l.bar(i, n, r)
		k := int32(len(m.Bars.Points))
		m.Bars.Points = append(m.Bars.Points, from, to)
		m.Bars.Marks = append(m.Bars.Marks, model.BarMark{Instance: uint64(i + 1)})
		m.Bars.Pieces = append(m.Bars.Pieces, model.Piece{Mark: int32(i), From: k, To: k + 2, Radius: 6})
	}
	for i := range n / barsOfItem {
		from, to := l.item(i, n, r)
		m.Items = append(m.Items, ferrule(i, n, from, to))
	}
	return m
}

// ferrule is an item with one anchor, without a host.
func ferrule(i, n int, from, to geom.Vec) *model.Item {
	rod := &geom.Rod{Path: []geom.Vec{from, to}, Radius: 10}
	length := from.Dist(to)
	it := &model.Item{
		Ref:  model.Ref{GlobalID: fmt.Sprintf("item-%d", i), Class: "IfcDiscreteAccessory", Name: "Ferrule", Mark: fmt.Sprintf("F-%d", i), Instance: uint64(n + i + 1)},
		Kind: model.Socket, Bodies: []model.Body{{Rod: rod, Box: rod.Box()}}, Box: rod.Box(),
	}
	it.Anchors = []*model.Anchor{{
		Item: it, Open: from, Dir: to.Sub(from).Unit(), Length: length, Diameter: 20, Bearing: length, Deepest: length,
	}}
	return it
}
