// Package bounded holds what readers may take to what they were given, for tests:
// a small file must not fill the memory, and no file may keep a reader for ever.
package bounded

import (
	"fmt"
	"runtime/metrics"
	"testing"
	"time"
)

// Limit is what a piece of work may allocate in all: a part that any input may
// take, and a part for each byte of it.
type Limit struct {
	Base    uint64 // bytes
	PerByte uint64 // bytes for each byte of the input
}

// longest is after how long work counts as hanging. It is no measure of speed:
// what is tested ends within a second on the slowest machine.
const longest = 2 * time.Minute

// Work does the work on an input of size bytes. It fails the test when more was
// allocated in all than the limit allows. A work that does not end ends the
// process with the stacks of all goroutines, so that a fuzzer keeps the input.
func Work(t testing.TB, size int, l Limit, work func()) {
	t.Helper()
	if over := taken(size, l, work); over != "" {
		t.Error(over)
	}
}

// taken does the work and says what was too much; "" when nothing was.
func taken(size int, l Limit, work func()) string {
	watch := time.AfterFunc(longest, func() {
		panic(fmt.Sprintf("%d bytes of input keep their reader for longer than %v", size, longest))
	})
	defer watch.Stop()
	before := allocated()
	work()
	got, most := allocated()-before, l.Base+l.PerByte*uint64(size)
	if got > most {
		return fmt.Sprintf("%d bytes were allocated for %d bytes of input, at most %d may be", got, size, most)
	}
	return ""
}

func allocated() uint64 {
	s := []metrics.Sample{{Name: "/gc/heap/allocs:bytes"}}
	metrics.Read(s)
	return s[0].Value.Uint64()
}
