package drawing

import (
	"bytes"
	"sync"
	"testing"

	"embedcheck/internal/drawing/subject"
)

// A Maker is shared by goroutines: they draw what one alone draws.
func TestDrawingSideBySide(t *testing.T) {
	m, found := demoFindings(t)
	draw := func(mk *Maker, i int) []byte {
		d, err := mk.For(&found[i])
		if err != nil {
			return nil
		}
		var b bytes.Buffer
		if err := d.SVG(&b); err != nil {
			t.Error(err)
		}
		return b.Bytes()
	}
	alone, shared := New(subject.NewIndex(m)), New(subject.NewIndex(m))
	got := make([][]byte, len(found))
	var wg sync.WaitGroup
	for w := range 4 {
		wg.Go(func() {
			for i := w; i < len(found); i += 4 {
				got[i] = draw(shared, i)
			}
		})
	}
	wg.Wait()
	for i := range found {
		if want := draw(alone, i); !bytes.Equal(got[i], want) {
			t.Errorf("%s: drawn differently side by side", found[i].Title)
		}
	}
}
