package sheet

import (
	"embedcheck/internal/drawing"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/setout"
)

// Options are what a call asks for.
type Options struct {
	Paper    Paper
	Revision string
}

// Maker makes the sheets of one run. It may be shared by goroutines.
type Maker struct {
	o     Options
	m     *model.Model
	run   *finding.Run
	index *subject.Index
	found map[*model.Host][]*finding.Finding
}

// New gets ready to make sheets of a model and what a check found in it.
func New(m *model.Model, run *finding.Run, o Options) *Maker {
	k := &Maker{o: o, m: m, run: run.Sorted(), index: subject.NewIndex(m), found: map[*model.Host][]*finding.Finding{}}
	for i := range k.run.Findings {
		f := &k.run.Findings[i]
		if h := k.index.Host(&f.Host); h != nil && !f.Settled() {
			k.found[h] = append(k.found[h], f)
		}
	}
	return k
}

// Sheet is the pages of one host.
type Sheet struct {
	Unit  *setout.Unit
	Pages []*drawing.Drawing
	Holds int // open findings that hold the pour
	Open  int // open findings of a review or a note
}

// Of makes the sheet of one host.
func (k *Maker) Of(u *setout.Unit) *Sheet {
	b := &book{k: k, u: u, paper: k.o.Paper}
	b.findings = k.found[u.Host]
	for _, f := range b.findings {
		if f.Priority == finding.Hold {
			b.holds++
		}
	}
	b.first()
	b.details()
	b.schedule()
	b.checklist()
	s := &Sheet{Unit: u, Holds: b.holds, Open: len(b.findings) - b.holds}
	for i, p := range b.pages {
		s.Pages = append(s.Pages, p.finish(i+1, len(b.pages)))
	}
	return s
}

// book is the pages of one host in the making.
type book struct {
	k        *Maker
	u        *setout.Unit
	paper    Paper
	pages    []*page
	findings []*finding.Finding
	holds    int
	dense    bool // some of what is taped is not on the running dimensions
}

// Paper is the size of a sheet on its side, in mm.
type Paper struct {
	Name string
	W, H float64
	Bind float64 // margin on the left, for filing
}

// The papers that there are.
var (
	A3 = Paper{"A3", 420, 297, 20}
	A4 = Paper{"A4", 297, 210, 15}
)

// ParsePaper finds a paper by its name.
func ParsePaper(name string) (Paper, bool) {
	for _, p := range [2]Paper{A3, A4} {
		if p.Name == name {
			return p, true
		}
	}
	return Paper{}, false
}

const margin = 8.0

// frame is the part of the paper that is drawn on.
func (p Paper) frame() drawing.Rect {
	return drawing.Rect{Min: geom.Vec2{X: p.Bind, Y: margin}, Max: geom.Vec2{X: p.W - margin, Y: p.H - margin}}
}

// scales are those of ISO 5455, and 1:25.
var scales = []float64{1, 2, 5, 10, 20, 25, 50, 100, 200, 500, 1000}

// scaleFor is the largest scale at which w x h mm fit into a room on paper.
func scaleFor(w, h, roomW, roomH float64) float64 {
	for _, s := range scales {
		if w <= roomW*s && h <= roomH*s {
			return s
		}
	}
	return max(w/roomW, h/roomH)
}
