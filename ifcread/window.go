package ifcread

import "bytes"

// window remembers where a byte is known not to be, so that a scanner that asks
// for it at every statement looks at each place of the file once.
type window struct {
	c, then  byte // then follows c, unless it is 0
	from, to int  // c is not in [from,to)
	hit      bool // it is at to
}

// ahead is how far a window looks beyond what it was asked for.
const ahead = 32 << 10

// clear reports whether c is not in b[from:to).
func (w *window) clear(b []byte, from, to int) bool {
	return from >= w.from && to <= w.to || w.look(b, from, to) == to
}

// look is the first place of c in b[from:to), or to.
func (w *window) look(b []byte, from, to int) int {
	at := from
	if from >= w.from && from <= w.to {
		if to <= w.to {
			return to
		}
		if w.hit {
			return w.to
		}
		at = w.to
	} else {
		w.from = from
	}
	far := min(len(b), max(to, at+ahead))
	w.to, w.hit = far, false
	for at < far {
		k := bytes.IndexByte(b[at:far], w.c)
		if k < 0 {
			break
		}
		at += k
		if w.then == 0 || at+1 < len(b) && b[at+1] == w.then {
			w.to, w.hit = at, true
			break
		}
		at++
	}
	return min(w.to, to)
}
