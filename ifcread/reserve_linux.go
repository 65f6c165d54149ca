package ifcread

import "syscall"

// reserve is fresh memory for a large file, in huge pages where the system has
// them: touching 500 MB in pages of 4 KiB costs more than scanning it. It is
// never given back: the file lives as long as the run.
func reserve(n int) []byte {
	const hugePages = 14 // MADV_HUGEPAGE
	b, err := syscall.Mmap(-1, 0, n, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_ANON|syscall.MAP_PRIVATE)
	if err != nil {
		return make([]byte, n)
	}
	_ = syscall.Madvise(b, hugePages) // only a wish
	return b
}
