package ifcread

import (
	"errors"
	"io"
	"os"
	"runtime"
	"sync"
	"sync/atomic"
)

// loadPiece is how much one goroutine reads at a time.
const loadPiece = 4 << 20

// errChanged is a file that another program is still writing.
var errChanged = errors.New("it changed while it was read; try again when it is written")

// load fills data from the start of a file that is as long, in pieces side by
// side: the time goes into copying and into the first touch of fresh memory, and
// both can be shared out.
func load(f *os.File, data []byte) error {
	pieces := (len(data) + loadPiece - 1) / loadPiece
	errs := make([]error, pieces)
	var wg sync.WaitGroup
	var next atomic.Int64
	for range min(pieces, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= pieces {
					return
				}
				from := i * loadPiece
				piece := data[from:min(from+loadPiece, len(data))]
				_, errs[i] = io.ReadFull(io.NewSectionReader(f, int64(from), int64(len(piece))), piece)
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return errChanged
		} else if err != nil {
			return err
		}
	}
	if info, err := f.Stat(); err == nil && info.Size() != int64(len(data)) {
		return errChanged
	}
	return nil
}
