package ifcread

import (
	"bytes"
	"sync"
)

// Line is the line that an instance begins on, from 1; 0 for no instance.
func (f *File) Line(i Inst) int {
	if i.f == nil {
		return 0
	}
	if f.xml != nil {
		return int(f.xml.lines[i.row])
	}
	return f.lineAt(int(f.offs[i.row]))
}

// linePiece is how much text is counted for a line number; what is before is
// counted once for all of them.
const linePiece = 64 << 10

// lineTable has, for every piece of a file, how many lines end before it.
type lineTable struct {
	once   sync.Once
	before []uint32
}

func (f *File) lineAt(at int) int {
	t := &f.lines
	t.once.Do(func() {
		c := lineCounter{b: f.data}
		for from := 0; from <= len(f.data); from += linePiece {
			t.before = append(t.before, uint32(c.at(from)-1))
		}
	})
	c := lineCounter{b: f.data, from: at / linePiece * linePiece}
	c.breaks = int(t.before[at/linePiece])
	return c.at(at)
}

// lineCounter counts lines up to places that ascend.
type lineCounter struct {
	b      []byte
	from   int
	breaks int // before from
}

// at is the line of an offset, from 1. Lines end with \n, \r\n or \r.
func (c *lineCounter) at(to int) int {
	piece := c.b[c.from:to]
	c.breaks += bytes.Count(piece, []byte{'\n'})
	for r := bytes.IndexByte(piece, '\r'); r >= 0; {
		if next := c.from + r + 1; next == len(c.b) || c.b[next] != '\n' {
			c.breaks++
		}
		k := bytes.IndexByte(piece[r+1:], '\r')
		if k < 0 {
			break
		}
		r += 1 + k
	}
	c.from = to
	return c.breaks + 1
}
