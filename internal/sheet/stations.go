package sheet

import (
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/setout"
)

// taped are the running dimensions along both sides of the form.
type taped struct{ x, y *chain }

// chains gathers what is taped from the datum: of every set the axes of its
// anchors, the near side of its plates, the middle of other items; of the form its
// far side and the openings.
func (b *book) chains(p *page) taped {
	u := b.u
	room := [2]float64{p.room.W() - 60, p.room.H() - 60}
	out := taped{x: &chain{axis: setout.X}, y: &chain{axis: setout.Y}}
	for i, c := range [2]*chain{out.x, out.y} {
		b.stations(c, -1)
		if float64(len(c.stations))*chainStep <= room[i]*0.8 {
			continue
		}
		*c = chain{axis: c.axis}
		b.stations(c, 1) // the first of each set; the others are in the table
		if float64(len(c.stations))*chainStep > room[i] {
			*c = chain{axis: c.axis}
			c.add(c.axis.Of(u.Size), "")
		}
		b.dense = true
	}
	return out
}

// stations adds what is taped along an axis, of each set at most so many.
func (b *book) stations(c *chain, most int) {
	u := b.u
	c.add(c.axis.Of(u.Size), "")
	for _, w := range u.Voids {
		if b.ownRecess(&w) {
			continue // goes with its item
		}
		mark := finding.Short(w.Mark, 12)
		c.add(c.axis.Of(w.Min), mark)
		c.add(c.axis.Of(w.Max), mark)
	}
	for _, s := range u.Sets {
		n := most
		for i := range s.Dims {
			d := &s.Dims[i]
			if d.Quantity != setout.Place || d.Axis != c.axis || len(s.Plates) > 0 && len(d.Anchors) > 0 {
				continue
			}
			if n == 0 {
				break
			}
			n--
			c.add(d.MM, s.Mark)
		}
	}
}

// ownRecess reports whether a recess is that of an item, which is set out by the
// item.
func (b *book) ownRecess(w *setout.Void) bool {
	if w.Through {
		return false
	}
	const play = 5
	box := geom.BoxOf(w.Min, w.Max).Grow(play)
	for _, s := range b.u.Sets {
		for i := range s.Anchors {
			if box.Overlaps(geom.BoxOf(s.Anchors[i].At)) {
				return true
			}
		}
		for i := range s.Bodies {
			if box.Overlaps(geom.BoxOf(s.Bodies[i].Min, s.Bodies[i].Max)) {
				return true
			}
		}
	}
	return false
}
