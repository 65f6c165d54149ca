// Embedcheck checks cast-in items in concrete building models.
package main

import (
	"os"
	"runtime/debug"
)

func main() {
	// A run keeps most of what it reads: collecting earlier takes a fifth off the
	// peak memory of a 50 MB model for 4 % more processor time.
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(50)
	}
	os.Exit(run(os.Args, os.Stdout, os.Stderr))
}
