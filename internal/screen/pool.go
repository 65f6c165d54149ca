package screen

import (
	"context"
	"runtime"
	"sync"
)

// atOnce is how many bytes of models are read at the same time; a larger model
// is read alone, with all cores. A model of 200 MB with many bars took 17 times
// its size in memory, so that this is about 1 GB.
const atOnce = 64 << 20

// Run calls do for each file, several at once but no more than workers, and
// done for each result in the order of the files, as soon as it is known. It
// ends early when ctx does: it waits for no call of do then, and gives the
// error of ctx, or that of done.
func Run[T any](ctx context.Context, files []File, workers int, do func(f File, workers int) T, done func(i int, v T) error) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	slots := make([]chan T, len(files))
	for i := range slots {
		slots[i] = make(chan T, 1)
	}
	go start(ctx, files, workers, func(i, workers int) { slots[i] <- do(files[i], workers) })
	for i, slot := range slots {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case v := <-slot:
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := done(i, v); err != nil {
				return err
			}
		}
	}
	return nil
}

// start starts the files one after the other, each when there is a core and
// room for it.
func start(ctx context.Context, files []File, workers int, do func(i, workers int)) {
	g := newGate(workers)
	stop := context.AfterFunc(ctx, g.close)
	defer stop()
	share := max(workers/max(len(files), 1), 1) // cores that a file may use
	for i, f := range files {
		use := share
		if f.Size >= atOnce {
			use = workers
		}
		if !g.enter(f.Size) {
			return
		}
		go func() {
			defer g.leave(f.Size)
			do(i, use)
		}()
	}
}

// gate lets in as many as there are cores, and as much as there is room for.
type gate struct {
	mu     sync.Mutex
	free   *sync.Cond
	cores  int
	room   int64
	closed bool
}

func newGate(cores int) *gate {
	g := &gate{cores: cores, room: atOnce}
	g.free = sync.NewCond(&g.mu)
	return g
}

// enter waits for a core and room; false when the gate was closed.
func (g *gate) enter(size int64) bool {
	size = min(size, atOnce)
	g.mu.Lock()
	defer g.mu.Unlock()
	for !g.closed && (g.cores == 0 || g.room < size) {
		g.free.Wait()
	}
	if g.closed {
		return false
	}
	g.cores--
	g.room -= size
	return true
}

func (g *gate) leave(size int64) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.cores++
	g.room += min(size, atOnce)
	g.free.Broadcast()
}

func (g *gate) close() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.closed = true
	g.free.Broadcast()
}
