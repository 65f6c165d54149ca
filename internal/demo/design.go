package demo

import (
	"math/rand/v2"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
)

// copiesOfDesign is how many panels of a mixed yard are of one design: jobs
// repeat their panels partly.
const copiesOfDesign = 3

// design is what the panels of one design have in common. All of it follows from
// the number of the design.
type design struct {
	step    float64 // of the bars; items lie on whole steps, bars half a step beside
	nx, ny  int     // steps along and up
	mats    embed.Mats
	lifters [][2]float64
	plates  [][2]float64
	sockets [][2]float64
	ferrule embed.Ferrule
	form    embed.Form // of items
	shared  bool       // items as mapped representations
	host    hostForm
	bars    barForm
	nested  bool // plates as assemblies of plate and studs
	pinned  bool // U-shaped bars along the upper edge
	said    bool // finish in property sets instead of names

	ferruleMap, lifterMap, recessMap *ib.Map // with shared
}

// hostForm is how the concrete is written.
type hostForm int

const (
	hostSwept   hostForm = iota // an extrusion, openings as elements
	hostBrep                    // a brep, openings as elements
	hostFacets                  // triangles, openings as elements
	hostCut                     // polygons, with the openings cut into the body itself
	countOfHost = iota
)

// barForm is how the reinforcement is written.
type barForm int

const (
	barsMapped  barForm = iota // an element a layer, mapped items
	barsSwept                  // an element a bar, swept disks
	barsBrep                   // an element a bar, a brep of its own
	barsOne                    // an element a layer, a swept disk a bar
	countOfBars = iota
)

func newDesign(number int) *design {
	r := rand.New(rand.NewPCG(2026, uint64(number)))
	d := &design{step: 200, host: hostForm(r.IntN(countOfHost)), bars: barForm(r.IntN(countOfBars))}
	if r.IntN(3) == 0 {
		d.step = 300
	}
	d.nx = steps(r, 3000, 8400, d.step)
	d.ny = steps(r, 2400, 3600, d.step)
	d.mats = embed.Mats{
		W: float64(d.nx) * d.step, H: float64(d.ny) * d.step, T: 160 + 20*float64(r.IntN(4)), D: []float64{10, 12, 16}[r.IntN(3)],
		Spacing: d.step, First: d.step / 2, Cover: 40, Across: r.IntN(2) == 0, Holes: d.openings(r),
	}
	d.ferrule = []embed.Ferrule{ferrule12, ferrule16, tailed16}[r.IntN(3)]
	if d.mats.T >= 200 && d.mats.D < 16 && r.IntN(2) == 0 { // thick bars leave it no room beside them at an edge
		d.ferrule = ferrule20
	}
	d.form = []embed.Form{embed.Swept, embed.Swept, embed.Extruded, embed.Brep, embed.Facets, embed.Polygons}[r.IntN(6)]
	d.ferrule.Form = d.form
	d.shared, d.nested, d.pinned, d.said = r.IntN(3) == 0, r.IntN(2) == 0, r.IntN(2) == 0, r.IntN(2) == 0
	d.place(r)
	return d
}

// steps is a length between two, in whole steps.
func steps(r *rand.Rand, from, to, step float64) int {
	lo, hi := int(from/step), int(to/step)
	return lo + r.IntN(hi-lo+1)
}

// openings are none, one or two, mirrored about the middle of the panel, so that
// the lifters stay balanced. Their sides lie on lines of bars.
func (d *design) openings(r *rand.Rand) []embed.Opening {
	high := 3 + r.IntN(max(1, d.ny-8))
	y0 := (float64((d.ny-1-high)/2) + 0.5) * d.step
	hole := func(from, wide int) embed.Opening {
		x0 := (float64(from) + 0.5) * d.step
		return embed.Opening{X0: x0, Y0: y0, X1: x0 + float64(wide)*d.step, Y1: y0 + float64(high)*d.step}
	}
	wide := 3 + d.nx%2 // so that one in the middle has its sides on lines of bars
	const beside = 5   // steps from the end of the panel to an opening: lifters lie there
	switch n := r.IntN(3); {
	case n == 0 || d.nx < wide+2*beside:
		return nil
	case n == 1 || d.nx < 2*wide+2*beside+3:
		return []embed.Opening{hole((d.nx-1-wide)/2, wide)}
	}
	return []embed.Opening{hole(beside, wide), hole(d.nx-1-beside-wide, wide)}
}

// place spreads the items over whole steps, none nearer to another than 600 mm.
func (d *design) place(r *rand.Rand) {
	at := func(i, j int) [2]float64 { return [2]float64{float64(i) * d.step, float64(j) * d.step} }
	d.lifters = [][2]float64{at(3, 2), at(d.nx-3, 2), at(3, d.ny-2), at(d.nx-3, d.ny-2)}
	taken := d.lifters
	var free [][2]float64
	for i := 2; i <= d.nx-2; i++ {
		for j := 2; j <= d.ny-2; j++ {
			free = append(free, at(i, j))
		}
	}
	r.Shuffle(len(free), func(i, k int) { free[i], free[k] = free[k], free[i] })
	plates := r.IntN(4)
	for _, c := range free {
		if d.inOpening(c) || near(c, taken, 600) {
			continue
		}
		taken = append(taken, c)
		if len(d.plates) < plates && len(d.sockets) > 1 {
			d.plates = append(d.plates, c)
		} else if len(d.sockets) < 14 {
			d.sockets = append(d.sockets, c)
		}
	}
}

// inOpening reports whether a place is less than a step from an opening.
func (d *design) inOpening(c [2]float64) bool {
	for _, o := range d.mats.Holes {
		if c[0] > o.X0-d.step && c[0] < o.X1+d.step && c[1] > o.Y0-d.step && c[1] < o.Y1+d.step {
			return true
		}
	}
	return false
}

func near(c [2]float64, taken [][2]float64, limit float64) bool {
	for _, t := range taken {
		if dx, dy := c[0]-t[0], c[1]-t[1]; dx*dx+dy*dy < limit*limit-1e-6 {
			return true
		}
	}
	return false
}

// stand is where panel n of a yard lies or stands: turned in plan by any angle,
// upright, leaning a little or flat. No two are nearer than a metre.
func (d *design) stand(n int) ib.Frame {
	r := rand.New(rand.NewPCG(99, uint64(n)))
	const cell = 11000
	at := ib.At(float64(n%rowOfPanels)*cell, float64(n/rowOfPanels)*cell, 0).TurnZ(float64(r.IntN(360)))
	switch r.IntN(4) {
	case 0: // flat, on dunnage
		at = at.Shift(0, 0, 300)
	case 1: // against a frame
		at = at.TurnX(80)
	default:
		at = at.TurnX(90)
	}
	return at.Shift(-d.mats.W/2, 0, 0)
}
