// Embedcheck checks cast-in items in concrete building models.
package main

import "os"

func main() { os.Exit(run(os.Args, os.Stdout, os.Stderr)) }
