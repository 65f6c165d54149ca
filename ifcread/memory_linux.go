package ifcread

import "syscall"

const (
	largeFile = 16 << 20
	hugePages = 14 // MADV_HUGEPAGE
)

// reserve is memory for a file. That of a large one is asked for in huge pages:
// touching 500 MB in pages of 4 KiB takes as long as scanning it.
func reserve(n int) []byte {
	data := make([]byte, n)
	if n >= largeFile {
		_ = syscall.Madvise(data, hugePages) // it does without, too
	}
	return data
}
