package ifcread

import (
	"bytes"
	"sync"
	"sync/atomic"
)

// scanChunk is how much of a file is scanned at a time: its results fit into a
// core's cache.
const scanChunk = 1 << 20

// scan finds all instances from an offset on. The file is cut into ranges that
// are scanned side by side, each from a place that looks like the start of a
// statement. Whether it was one shows when the ranges are put together in order:
// then the range before has to end there. When it does not, as with a string or
// a comment in which an instance seems to begin, the range is scanned again from
// the right place. So the result is that of one scan from the start, for any
// number of workers and any size of ranges.
func (f *File) scan(from, workers, chunk int) {
	g := gatherer{f: f, from: from}
	g.index.f = f
	cuts := f.cuts(from, chunk)
	if workers > 1 && len(cuts) > 2 {
		f.scanParallel(&g, cuts, workers)
	} else {
		var blk block
		s := newScanner(f.data)
		for _, end := range cuts[1:] {
			s.scan(g.from, end, &blk)
			if g.add(&blk); blk.ended {
				break
			}
		}
	}
	g.finish()
}

func (f *File) scanParallel(g *gatherer, cuts []int, workers int) {
	n := len(cuts) - 1
	free := make(chan *block, 2*workers)
	for range cap(free) {
		free <- new(block)
	}
	done := make([]chan *block, n)
	for i := range done {
		done[i] = make(chan *block, 1)
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			s := newScanner(f.data)
			for blk := range free { // before the number, so that the lowest number has one
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				s.scan(cuts[i], cuts[i+1], blk)
				done[i] <- blk
			}
		})
	}
	s := newScanner(f.data)
	for i := range n {
		blk := <-done[i]
		if g.from != cuts[i] {
			s.scan(g.from, cuts[i+1], blk)
		}
		if g.add(blk); blk.ended {
			next.Store(int64(n))
			break
		}
		free <- blk
	}
	close(free)
	wg.Wait()
}

// cuts are the ends of the ranges that a file is scanned in.
func (f *File) cuts(from, chunk int) []int {
	cuts := []int{from}
	for at := from + chunk; at < len(f.data); at = cuts[len(cuts)-1] + chunk {
		next := likelyStart(f.data, at)
		if next >= len(f.data) {
			break
		}
		cuts = append(cuts, next)
	}
	return append(cuts, len(f.data))
}

// likelyStart is the next place from i on that looks like the start of an
// instance behind another statement; len(b) when there is none.
func likelyStart(b []byte, i int) int {
	for {
		k := bytes.IndexByte(b[i:], ';')
		if k < 0 {
			return len(b)
		}
		i += k + 1
		at := i
		for at < len(b) && b[at] <= ' ' {
			at++
		}
		if startsInstance(b[at:]) {
			return at
		}
	}
}

// gatherer puts the ranges together in the order of the file.
type gatherer struct {
	f     *File
	from  int // of the next range
	ended bool
	index indexer
}

func (g *gatherer) add(blk *block) {
	f := g.f
	if f.offs == nil && blk.next > g.from {
		g.reserve(len(blk.offs), blk.next-g.from)
	}
	f.offs = append(f.offs, blk.offs...)
	f.types = append(f.types, blk.types...)
	g.index.add(blk.ids)
	f.faults.join(&blk.bad)
	g.from, g.ended = blk.next, blk.ended
}

// reserve makes room for the rows of a file of which the first part, of a size in
// bytes, has so many.
func (g *gatherer) reserve(rows, size int) {
	left := float64(len(g.f.data)-g.from) / float64(size)
	room := rows
	if left > 1 {
		room = int(float64(rows)*left*1.04) + 1024
	}
	g.f.offs = make([]uint32, 0, room)
	g.f.types = make([]Type, 0, room)
}

func (g *gatherer) finish() {
	f := g.f
	f.index = g.index.finish()
	s := newScanner(f.data)
	switch {
	case !g.ended && f.faults.count[whyCut] == 0:
		f.faults.add(fault{at: len(f.data), why: whyNoEnd})
	case g.ended && s.nextLine(g.from) < len(f.data):
		f.faults.add(fault{at: s.nextLine(g.from), why: whyBehind})
	}
}
