package atomicfile

import (
	"errors"
	"os"
	"sync"
)

// ErrStopped is what writing gives once Stop was called.
var ErrStopped = errors.New("the run was stopped")

// underWay is what this process writes at the moment.
var underWay = struct {
	placing sync.RWMutex // held for reading while files take their places
	sync.Mutex
	temps   map[string]bool
	stopped bool
}{temps: map[string]bool{}}

// Stop ends all writing of this process, for one that is about to end: files that
// are taking their places get there, what others have written so far is removed,
// and nothing is written any more.
func Stop() {
	underWay.placing.Lock()
	defer underWay.placing.Unlock()
	underWay.Lock()
	defer underWay.Unlock()
	underWay.stopped = true
	for name := range underWay.temps {
		os.Remove(name)
	}
}

// begin registers a file that is being written.
func begin(open func() (*os.File, error)) (*os.File, error) {
	underWay.Lock()
	defer underWay.Unlock()
	if underWay.stopped {
		return nil, ErrStopped
	}
	f, err := open()
	if err == nil {
		underWay.temps[f.Name()] = true
	}
	return f, err
}

func end(name string) {
	underWay.Lock()
	defer underWay.Unlock()
	delete(underWay.temps, name)
}

// placing runs what puts files where they belong, to its end.
func placing(do func() error) error {
	underWay.placing.RLock()
	defer underWay.placing.RUnlock()
	underWay.Lock()
	stopped := underWay.stopped
	underWay.Unlock()
	if stopped {
		return ErrStopped
	}
	return do()
}
