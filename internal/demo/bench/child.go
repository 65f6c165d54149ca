package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"

	"embedcheck/ifcread"
	"embedcheck/internal/demo"
	"embedcheck/internal/ifcbuild"
)

// childWord, as first argument, makes this program do one thing and end: what
// needs much memory or is measured does so in a process of its own.
const childWord = "do"

func child(args []string, out io.Writer) error {
	if len(args) != 3 {
		return errors.New("this call is for the program itself")
	}
	what, how, where := args[0], args[1], args[2]
	n, err := strconv.Atoi(how)
	if err != nil {
		return err
	}
	switch what {
	case "yard":
		return writeYard(demo.Yard{Size: int64(n), Schema: ifcbuild.IFC4, Unit: ifcbuild.MM}, where)
	case "row":
		return writeYard(demo.Yard{Panels: n, Schema: ifcbuild.IFC4, Unit: ifcbuild.MM}, where)
	case "panels":
		return writePanels(n, where)
	case "index":
		_, err := ifcread.Open(where, ifcread.Options{Workers: n})
		return err
	case "clash":
		return clash(n, where, out)
	case "calibrate":
		return calibrate(n, out)
	}
	return fmt.Errorf("nothing is called %q", what)
}

func writeYard(y demo.Yard, path string) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	w := bufio.NewWriterSize(f, 1<<20)
	_, err = y.Write(w)
	return errors.Join(err, w.Flush(), f.Close())
}

func writePanels(n int, dir string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	y := demo.Yard{Panels: n, Schema: ifcbuild.IFC4, Unit: ifcbuild.MM}
	for i := range n {
		name, model, _ := y.Panel(i)
		if err := os.WriteFile(filepath.Join(dir, name), model, 0o666); err != nil {
			return err
		}
	}
	return nil
}
