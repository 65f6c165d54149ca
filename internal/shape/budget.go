package shape

import (
	"errors"
	"fmt"
)

// What shares pieces of a model again and again can make terabytes out of a small
// file: maps of maps, one curve under a thousand profiles. So the points that the
// shapes of a model come to are counted: ownBudget of them are always allowed,
// and perByte for each byte of clear text. A point of a polyline takes 25 bytes of
// text and a circle of 60 bytes comes to 256 points at most, so a model in which
// nothing is shared stays below a half of it; a point takes 24 bytes.
const (
	ownBudget = 20_000_000
	perByte   = 8
	perPart   = 16 // points that a part of a shape counts as
)

// spend counts points and reports whether the model may have them.
func (r *Reader) spend(points int) bool {
	return r.spent.Add(int64(points)) <= r.budget()
}

func (r *Reader) budget() int64 { return ownBudget + perByte*int64(len(r.file.Data())) }

// Exceeded says that the shapes of the model come to more points than are
// allowed, and "" when they do not. Some shapes are then unread, and which ones
// depends on the order of reading: the model is of no use.
func (r *Reader) Exceeded() string {
	if r.spent.Load() <= r.budget() {
		return ""
	}
	return fmt.Sprintf("its shapes use each other so often that they come to more than %d points, for %d bytes of text; export it again without maps in maps, or split it", r.budget(), len(r.file.Data()))
}

const tooMuch = "the shapes of the model come to too many points"

// maxRinged bounds the points of one solid that is swept along a curve or goes
// through cross-sections.
const maxRinged = 2_000_000

// ringable reports whether an area with n corners may be placed at so many places,
// and counts them.
func (r *Reader) ringable(n, places int) error {
	if n > 0 && places > maxRinged/n {
		return fmt.Errorf("%d corners at %d places are more than the %d points that one solid may have", n, places, maxRinged)
	}
	if !r.spend(n * places) {
		return errors.New(tooMuch)
	}
	return nil
}

// weight is how many points a curve comes to, roughly.
func (c path) weight() int {
	n := 0
	for i := range c.pieces {
		if c.pieces[i].kind == straight {
			n++
		} else {
			n += 64
		}
	}
	return n
}

// corners is the number of corners of an area, holes included.
func (a region) corners() int {
	n := 0
	for _, l := range a.sizes() {
		n += l
	}
	return n
}
