package screen

import (
	"context"
	"errors"
	"slices"
	"sync"
	"testing"
)

func many(n int, size int64) []File {
	out := make([]File, n)
	for i := range out {
		out[i] = File{Size: size}
	}
	return out
}

// watch counts what runs at the same time.
type watch struct {
	mu               sync.Mutex
	files, mostFiles int
	bytes, mostBytes int64
	workers          map[int]bool
}

func (w *watch) in(f File, workers int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.workers == nil {
		w.workers = map[int]bool{}
	}
	w.workers[workers] = true
	w.files++
	w.bytes += f.Size
	w.mostFiles, w.mostBytes = max(w.mostFiles, w.files), max(w.mostBytes, w.bytes)
}

func (w *watch) out(f File) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.files--
	w.bytes -= f.Size
}

func TestRunTellsInTheOrderOfTheFiles(t *testing.T) {
	files := many(50, 1)
	for i := range files {
		files[i].Size = int64(i)
	}
	var w watch
	var got []int64
	err := Run(context.Background(), files, 4, func(f File, workers int) int64 {
		w.in(f, workers)
		defer w.out(f)
		return f.Size
	}, func(i int, v int64) error {
		if int64(i) != v {
			t.Errorf("place %d has the result of %d", i, v)
		}
		got = append(got, v)
		return nil
	})
	if err != nil || len(got) != 50 || !slices.IsSorted(got) {
		t.Errorf("%v %v", got, err)
	}
	if w.mostFiles > 4 || !w.workers[1] || len(w.workers) != 1 {
		t.Errorf("%d files at once, with %v workers each", w.mostFiles, w.workers)
	}
}

// TestLargeModelsAreReadAlone: two that fit together may run together, two that
// do not may not, and one that fills the room has all cores.
func TestLargeModelsAreReadAlone(t *testing.T) {
	for _, c := range []struct {
		size, most int64
		workers    int
	}{
		{atOnce / 2, atOnce, 1}, {atOnce/2 + 1, atOnce/2 + 1, 1}, {atOnce, atOnce, 3}, {3 * atOnce, 3 * atOnce, 3},
	} {
		var w watch
		_ = Run(context.Background(), many(9, c.size), 3, func(f File, workers int) bool {
			w.in(f, workers)
			defer w.out(f)
			return true
		}, func(int, bool) error { return nil })
		if w.mostBytes > c.most || !w.workers[c.workers] || len(w.workers) != 1 {
			t.Errorf("models of %d bytes: %d at once, with %v workers", c.size, w.mostBytes, w.workers)
		}
	}
	var w watch
	_ = Run(context.Background(), many(1, 5), 3, func(f File, workers int) bool { w.in(f, workers); return true }, func(int, bool) error { return nil })
	if !w.workers[3] {
		t.Error("a single file does not have all cores")
	}
}

// TestRunEndsWithItsContext does not wait for files that are on their way.
func TestRunEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	never := make(chan bool)
	defer close(never)
	err := Run(ctx, many(10, 1), 2, func(File, int) bool { cancel(); return <-never }, func(int, bool) error { return nil })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

func TestRunEndsWithAnError(t *testing.T) {
	full := errors.New("the disk is full")
	err := Run(context.Background(), many(10, 1), 2, func(File, int) int { return 0 }, func(int, int) error { return full })
	if !errors.Is(err, full) {
		t.Errorf("%v", err)
	}
}
