//go:build !linux

package ifcread

func reserve(n int) []byte { return make([]byte, n) }
