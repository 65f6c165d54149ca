// Command write writes the demonstration models, or one large model for
// benchmarks.
//
//	go run ./internal/demo/write -dir out                     the demonstration models
//	go run ./internal/demo/write -size 500MB -o big.ifc       storage yard of about that size
//	go run ./internal/demo/write -size 500MB -mixed -o m.ifc  the same, panels of many designs
//	go run ./internal/demo/write -panels 40 -each -o many.ifc 40 panels, every bar an element
//	go run ./internal/demo/write -panels 1000 -dir yard       1000 panels, each a model of its own
//
// What a reader should find in the large model is printed as JSON.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"embedcheck/internal/demo"
	"embedcheck/internal/ifcbuild"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "write:", err)
		os.Exit(2)
	}
}

func run(args []string, out io.Writer) error {
	fs := flag.NewFlagSet("write", flag.ContinueOnError)
	dir := fs.String("dir", "", "folder for the demonstration models, or for panels")
	file := fs.String("o", "", "file for one large model")
	size := fs.String("size", "", "size of the large model: 5MB, 500MB, 2GB")
	panels := fs.Int("panels", 0, "number of panels, instead of a size")
	each := fs.Bool("each", false, "every bar an element of its own")
	mixed := fs.Bool("mixed", false, "panels of many designs, three of each, instead of one for all")
	old := fs.Bool("ifc2x3", false, "write IFC2X3 instead of IFC4")
	metre := fs.Bool("metre", false, "write metres instead of millimetres")
	if err := fs.Parse(args); err != nil {
		return err
	}
	switch {
	case *dir != "" && *file == "" && *panels <= 0:
		return writeDemo(*dir)
	case *dir == "" && *file == "" || (*size == "") == (*panels <= 0):
		return errors.New("give -dir, or -o with either -size or -panels")
	}
	y := demo.Yard{Panels: *panels, Each: *each, Mixed: *mixed, Schema: ifcbuild.IFC4, Unit: ifcbuild.MM}
	if *old {
		y.Schema = ifcbuild.IFC2X3
	}
	if *metre {
		y.Unit = ifcbuild.Metre
	}
	if *size != "" {
		n, err := bytesOf(*size)
		if err != nil {
			return err
		}
		y.Size = n
	}
	if *dir != "" {
		return y.WritePanels(*dir)
	}
	return writeYard(y, *file, out)
}

func writeDemo(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, f := range demo.Files() {
		if err := os.WriteFile(filepath.Join(dir, f.Name), f.Bytes(), 0o644); err != nil {
			return err
		}
	}
	return nil
}

func writeYard(y demo.Yard, path string, out io.Writer) error {
	sum, err := y.WriteFile(path)
	if err != nil {
		return err
	}
	enc := json.NewEncoder(out)
	enc.SetIndent("", " ")
	return enc.Encode(sum)
}

// bytesOf reads "500MB": decimal units, as disks have them.
func bytesOf(s string) (int64, error) {
	number, unit := s, int64(1)
	for suffix, n := range map[string]int64{"kB": 1e3, "MB": 1e6, "GB": 1e9} {
		if rest, ok := strings.CutSuffix(s, suffix); ok {
			number, unit = rest, n
		}
	}
	n, err := strconv.ParseInt(number, 10, 64)
	if err != nil || n <= 0 {
		return 0, fmt.Errorf("-size %q: want a number with kB, MB or GB", s)
	}
	return n * unit, nil
}
