package rules

import (
	"slices"
	"sync"

	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// shared is what the rules of one run have in common. What is costly is worked
// out when the first rule asks for it.
type shared struct {
	m       *model.Model
	set     *Set
	workers int

	index   map[*model.Item]int32 // place in m.Items
	classes []alike
	class   []int32 // of item i
	ids     map[*model.Host]hostID
	groups  []*group
	group   []*group // of item i
	first   []int32  // number of the first anchor of item i among all anchors

	measured []Measured // values that people took; nil in a check of models

	cones    sync.Map // *model.Anchor, the first of its face, to *coneOnce
	edges    func() []edge
	heaps    func() map[*model.Item]bool             // items in one place with very many others
	hostTree func() *geom.BoxTree                    // of all hosts
	sheetsOn func() map[*model.Anchor][]*model.Sheet // the plates that an anchor stands through
}

// edge is a measured edge distance; ok is false when there is none.
type edge struct {
	measure.Edge
	ok bool
}

func prepare(m *model.Model, set *Set, workers int) *shared {
	s := &shared{m: m, set: set, workers: max(workers, 1)}
	s.index = make(map[*model.Item]int32, len(m.Items))
	s.first = make([]int32, len(m.Items)+1)
	for i, it := range m.Items {
		s.index[it] = int32(i)
		s.first[i+1] = s.first[i] + int32(len(it.Anchors))
	}
	s.classes, s.class = classify(m.Items, set)
	s.ids = hostIDs(m)
	s.groups, s.group = groupItems(m, s.ids)
	s.edges = sync.OnceValue(s.measureEdges)
	s.heaps = sync.OnceValue(s.findHeaps)
	s.hostTree = sync.OnceValue(s.indexHosts)
	s.sheetsOn = sync.OnceValue(s.indexSheets)
	return s
}

// edge is the edge distance of an anchor, measured once for all rules.
func (s *shared) edge(a *model.Anchor) (measure.Edge, bool) {
	e := s.edges()[s.first[s.index[a.Item]]+int32(a.Index)]
	return e.Edge, e.ok
}

// coneOnce is the cone of anchors that work together, worked out when it is first
// asked for.
type coneOnce struct {
	once    sync.Once
	anchors []*model.Anchor
	cone    cone
	ok      bool
}

// cone is the breakout cone of anchors that work together, worked out once for all
// rules; false when they have no common outline of the concrete.
func (s *shared) cone(anchors []*model.Anchor) (cone, bool) {
	kept, _ := s.cones.LoadOrStore(anchors[0], &coneOnce{})
	c := kept.(*coneOnce)
	c.once.Do(func() {
		c.anchors = anchors
		c.cone, c.ok = coneOf(anchors, s.edge)
	})
	if !slices.Equal(c.anchors, anchors) { // the rules look at different items of the set
		return coneOf(anchors, s.edge)
	}
	return c.cone, c.ok
}

func coneOf(anchors []*model.Anchor, edgeOf func(*model.Anchor) (measure.Edge, bool)) (cone, bool) {
	p, ok := newPad(anchors, edgeOf)
	if !ok {
		return cone{}, false
	}
	return p.cone(), true
}

func (s *shared) measureEdges() []edge {
	out := make([]edge, s.first[len(s.m.Items)])
	s.each(len(s.m.Items), func(i int) {
		for k, a := range s.m.Items[i].Anchors {
			if sound(a) {
				e, ok := measure.EdgeDistance(a)
				out[int(s.first[i])+k] = edge{e, ok}
			}
		}
	})
	return out
}

func (s *shared) indexHosts() *geom.BoxTree {
	boxes := make([]geom.Box, len(s.m.Hosts))
	for i, h := range s.m.Hosts {
		boxes[i] = h.Box
	}
	return geom.NewBoxTree(boxes)
}

func (s *shared) indexSheets() map[*model.Anchor][]*model.Sheet {
	out := map[*model.Anchor][]*model.Sheet{}
	for _, p := range s.m.Sheets {
		for _, a := range p.Anchors {
			out[a] = append(out[a], p)
		}
	}
	return out
}

// each calls do for 0 to n-1 on all workers. Calls write to places of their own.
func (s *shared) each(n int, do func(i int)) {
	workers := min(s.workers, n)
	if workers <= 1 {
		for i := range n {
			do(i)
		}
		return
	}
	var next counter
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for i := next.take(); i < n; i = next.take() {
				do(i)
			}
		})
	}
	wg.Wait()
}
