package ifcread

import (
	"errors"
	"io"
	"os"
	"runtime"
	"sync"
)

// load reads a file of a known size, in pieces side by side: on a large file the
// time goes into copying and into the first touch of fresh memory, and both can
// be shared out.
func load(f *os.File, size int64) ([]byte, error) {
	const piece = 8 << 20
	if size < 2*piece {
		return io.ReadAll(io.LimitReader(f, size+1))
	}
	data := reserve(int(size))
	n := int((size + piece - 1) / piece)
	errs := make([]error, n)
	var wg sync.WaitGroup
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				from := int64(i) * piece
				_, errs[i] = io.ReadFull(io.NewSectionReader(f, from, piece), data[from:min(from+piece, size)])
			}
		})
	}
	wg.Wait()
	return data, errors.Join(errs...)
}
