package ifcread

import (
	"runtime"
	"syscall"
)

// release gives the memory of a file back to the system.
type release func()

// with releases the memory when f is out of use.
func (r release) with(f *File) { runtime.AddCleanup(f, func(r release) { r() }, r) }

const (
	reserveFrom = 16 << 20 // smaller files go to the heap
	hugePages   = 14       // MADV_HUGEPAGE
)

// reserve is memory for a file. That of a large one is not on the heap and is
// asked for in huge pages: touching 500 MB in pages of 4 KiB takes longer than
// scanning it, and on the heap it would double what the garbage collector lets
// pile up. To release it empties the pages and keeps the addresses, so that a
// forgotten slice of it reads zeros.
func reserve(n int) ([]byte, release) {
	if n >= reserveFrom {
		b, err := syscall.Mmap(-1, 0, n, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_ANON|syscall.MAP_PRIVATE)
		if err == nil {
			_ = syscall.Madvise(b, hugePages) // it does without, too
			return b, func() { _ = syscall.Madvise(b, syscall.MADV_DONTNEED) }
		}
	}
	return make([]byte, n), func() {}
}
