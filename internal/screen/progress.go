package screen

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// Progress draws one line on a terminal that says how far a run is. A nil
// Progress draws nothing.
type Progress struct {
	mu          sync.Mutex
	w           io.Writer
	total, done int
	bytes, all  int64
	begin, last time.Time
	now         func() time.Time
	shown       bool
}

// often is the least time between two drawings.
const often = 100 * time.Millisecond

// NewProgress draws to w, which has to be a terminal.
func NewProgress(w io.Writer, files []File, now func() time.Time) *Progress {
	p := &Progress{w: w, total: len(files), now: now, begin: now()}
	for _, f := range files {
		p.all += f.Size
	}
	return p
}

// Done counts a file that is done.
func (p *Progress) Done(f File) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.done++
	p.bytes += f.Size
	if t := p.now(); p.done < p.total && t.Sub(p.last) >= often {
		p.last = t
		p.draw(t)
	}
}

// draw writes over the line before.
func (p *Progress) draw(t time.Time) {
	text := fmt.Sprintf("%d of %d files", p.done, p.total)
	if gone := t.Sub(p.begin); gone > 3*time.Second && p.bytes > 0 {
		left := time.Duration(float64(gone) * float64(p.all-p.bytes) / float64(p.bytes))
		text += ", about " + left.Round(time.Second).String() + " left"
	}
	fmt.Fprint(p.w, "\r\x1b[K"+text)
	p.shown = true
}

// Clear takes the line away, so that something else can be written.
func (p *Progress) Clear() {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shown {
		fmt.Fprint(p.w, "\r\x1b[K")
		p.shown = false
	}
}
