package element_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"embedcheck/internal/geom"
)

// readerDir holds the program that asks the npm package web-ifc, a
// general-purpose library that shares no code with the project.
var readerDir = filepath.Join("testdata", "reader")

// elsewhere is a product as the library gives it: mm in world coordinates, its
// openings taken out.
type elsewhere struct {
	GUID         string
	Min, Max     [3]float64
	Volume, Area float64
	Flux         [3]float64 // sum of the areas as vectors, 0 for a closed surface
}

// closed reports whether the surface encloses a volume. Coordinates come in
// single precision, so that the areas of many small faces do not quite cancel.
func (e elsewhere) closed() bool {
	return geom.V(e.Flux[0], e.Flux[1], e.Flux[2]).Norm() <= 1e-4*e.Area
}

// readElsewhere reads models with the library, circles in so many sides; the
// test is skipped when that is not installed.
func readElsewhere(t *testing.T, sides int, paths ...string) []map[string]elsewhere {
	t.Helper()
	if _, err := os.Stat(filepath.Join(readerDir, "node_modules")); err != nil {
		t.Skip("the independent reader is not installed (npm install in internal/element/testdata/reader)")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here to run the independent reader")
	}
	args := []string{"read.cjs", fmt.Sprint(sides)}
	for _, p := range paths {
		p, err := filepath.Abs(p)
		if err != nil {
			t.Fatal(err)
		}
		args = append(args, p)
	}
	cmd := exec.Command(node, args...)
	cmd.Dir = readerDir
	out, err := cmd.Output()
	if err != nil {
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			t.Fatalf("%v\n%s", err, exit.Stderr)
		}
		t.Fatal(err)
	}
	var models []struct {
		Error    string
		Products []elsewhere
	}
	if err := json.Unmarshal(out, &models); err != nil {
		t.Fatalf("%v in %.500s", err, out)
	}
	all := make([]map[string]elsewhere, len(models))
	for i, m := range models {
		if m.Error != "" {
			t.Errorf("%s: %s", paths[i], m.Error)
		}
		all[i] = map[string]elsewhere{}
		for _, p := range m.Products {
			all[i][p.GUID] = p
		}
	}
	return all
}

// Limits of what both sides may differ by.
const (
	boxLimit    = 0.1  // mm
	flatLimit   = 1e-3 // of the volume
	curvedLimit = 1e-2
)

// compare names what two readings of one product differ in, with the figures.
// A product that neither side reads does not differ.
func (h *here) compare(e elsewhere, there bool) map[string]string {
	switch {
	case (h.why != "" || h.parts == 0) && !there:
		return nil
	case h.why != "":
		return map[string]string{"not read here": h.why}
	case h.parts == 0:
		return map[string]string{"missing here": ""}
	case !there:
		return map[string]string{"missing there": ""}
	}
	differ := map[string]string{}
	lo, hi := geom.V(e.Min[0], e.Min[1], e.Min[2]), geom.V(e.Max[0], e.Max[1], e.Max[2])
	d, g := h.box.Min.Sub(lo), h.box.Max.Sub(hi)
	if worst := max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z), math.Abs(g.X), math.Abs(g.Y), math.Abs(g.Z)); worst > boxLimit {
		differ["box"] = fmt.Sprintf("%.3f mm: here %v, there %v %v", worst, h.box, lo, hi)
	}
	limit := flatLimit
	if h.curved {
		limit = curvedLimit
	}
	off := math.Abs(h.volume-e.Volume) / h.volume
	switch {
	case !e.closed(): // nor has it a volume
		differ["open there"] = fmt.Sprintf("areas leave %.3g of %.3g mm2", geom.V(e.Flux[0], e.Flux[1], e.Flux[2]).Norm(), e.Area)
	case off > limit:
		differ["volume"] = fmt.Sprintf("%.3f%%: here %.6g, there %.6g mm3", 100*off, h.volume, e.Volume)
	}
	return differ
}

// difference is one that is known and meant: of products of a model that have an
// item or a profile of the type Of, or are called so.
type difference struct {
	Model, Of, What, Reason string
}

func (d difference) covers(model, what string, h *here) bool {
	return d.Model == model && d.What == what && (d.Of == h.name || slices.Contains(h.of, d.Of))
}

// known reads the list of differences.
func known(t *testing.T) []difference {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(readerDir, "differences.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all []difference
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// check compares models with the library product by product. A difference that is
// not listed fails, and so does a listed one of these models that is none. The
// library gives circles so many sides; its time grows fast with them.
func check(t *testing.T, sides int, paths ...string) {
	t.Helper()
	there := readElsewhere(t, sides, paths...)
	list := known(t)
	for i, path := range paths {
		model := filepath.Base(path)
		met := make([]bool, len(list))
		products := readHere(t, path)
		differ := 0
		for _, h := range products {
			e, ok := there[i][h.guid]
			for what, detail := range h.compare(e, ok) {
				differ++
				k := slices.IndexFunc(list, func(d difference) bool { return d.covers(model, what, &h) })
				if k < 0 {
					t.Errorf("%s: %s %q (%s) of %v: %s: %s", model, h.class, h.name, h.guid, h.of, what, detail)
					continue
				}
				met[k] = true
			}
		}
		for k, d := range list {
			if d.Model == model && !met[k] {
				t.Errorf("%s: the listed difference %q of %q occurs no more", model, d.What, d.Of)
			}
		}
		t.Logf("%s: %d products compared, %d differences", model, len(products), differ)
	}
}

// Every public model and the demo, product by product.
func TestModelsAgreeWithAnotherReader(t *testing.T) {
	var paths []string
	for _, dir := range []string{"../../testdata/demo", "../../../shared/data/models"} {
		found, _ := filepath.Glob(dir + "/*.ifc")
		paths = append(paths, found...)
	}
	check(t, 96, paths...)
}
