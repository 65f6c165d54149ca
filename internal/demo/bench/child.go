package main

import (
	"errors"
	"fmt"
	"io"
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
	case "mixed", "plain":
		_, err := demo.Yard{Size: int64(n), Mixed: what == "mixed", Schema: ifcbuild.IFC4, Unit: ifcbuild.MM}.WriteFile(where)
		return err
	case "row":
		_, err := demo.Yard{Panels: n, Schema: ifcbuild.IFC4, Unit: ifcbuild.MM}.WriteFile(where)
		return err
	case "panels":
		return demo.Yard{Panels: n, Schema: ifcbuild.IFC4, Unit: ifcbuild.MM}.WritePanels(where)
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
