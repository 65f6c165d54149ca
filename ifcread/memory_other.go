//go:build !linux

package ifcread

// reserve is memory for a file.
func reserve(n int) []byte { return make([]byte, n) }
