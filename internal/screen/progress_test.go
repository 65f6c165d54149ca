package screen

import (
	"strings"
	"testing"
	"time"
)

func TestProgressSaysHowLongItTakes(t *testing.T) {
	var b strings.Builder
	at := time.Unix(0, 0)
	p := NewProgress(&b, many(4, 10), func() time.Time { return at })
	p.Done(File{Size: 10}) // too early to draw again
	at = at.Add(6 * time.Second)
	p.Done(File{Size: 10})
	if !strings.HasSuffix(b.String(), "2 of 4 files, about 6s left") {
		t.Errorf("%q", b.String())
	}
	p.Clear()
	p.Clear()
	if !strings.HasSuffix(b.String(), "left\r\x1b[K") {
		t.Errorf("%q", b.String())
	}
	n := b.Len()
	at = at.Add(time.Second)
	p.Done(File{Size: 10})
	p.Clear()
	if b.Len() == n {
		t.Error("nothing drawn")
	}
	n = b.Len()
	at = at.Add(time.Second)
	p.Done(File{Size: 10}) // the last one: nothing is left to wait for
	if b.Len() != n {
		t.Error("drawn after the end")
	}
	var none *Progress
	none.Done(File{})
	none.Clear()
}
