package check_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"embedcheck/internal/bounded"
	"embedcheck/internal/check"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/internal/report"
	"embedcheck/rules"
)

// wholeModels are small models of the sorts of relations that lead from a file to
// a finding: assemblies, voids, properties, materials, types, mapped bodies.
func wholeModels() [][]byte {
	t := &embed.Template{W: 400, H: 340, T: 8, Hole: 26, Under: 75}
	assembly := stack{schema: ifc.IFC4, unit: ifc.MM, place: turned, nuts: true, template: t, thread: 100}
	opened := stack{schema: ifc.IFC2X3, unit: ifc.Inch, opened: true, washers: true}
	b := ifc.New(ifc.IFC4X3, ifc.Metre, ifc.Placed(standing))
	wall := b.Add(ifc.Element{Class: "IfcWall", Name: "WP-1", Tag: "WP-1", At: here, Material: "Concrete C32/40", Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, 0), ifc.V(2000, 200, 1500))}})
	wall.Open("OP-1", here, ifc.Block(ifc.V(500, -10, 400), ifc.V(900, 210, 900)))
	for i := range 2 {
		b.Add(ifc.Element{
			Class: "IfcMechanicalFastener", Predefined: "ANCHORBOLT", Name: "HB1 M20", At: ifc.At(300+60*float64(i), 0, 60),
			Body: []ifc.Solid{ifc.Rod(ifc.Straight(ifc.V(0, -100, 0), ifc.V(0, 150, 0)), 20)},
		})
	}
	return [][]byte{assembly.concrete(), opened.concrete(), opened.steel(), b.Bytes()}
}

var parameter = regexp.MustCompile(`'(?:[^']|'')*'|[^,()'=;]+`)

// FuzzModel exchanges parameters of whole models, references above all, so that
// relations lead back to themselves, parts contain their wholes and lengths make
// no sense. Whatever it is, the run ends, its file holds finite numbers, and they
// are the same for any number of workers. Each change takes four bytes: the
// instance, the parameter, and what it becomes, a reference or one of exchanged.
func FuzzModel(f *testing.F) {
	models := wholeModels()
	for i := range models {
		f.Add(uint8(i), []byte{})
		for k := range byte(12) {
			f.Add(uint8(i), []byte{k * 5, k * 31, k % 7, 100 + k*13, 200 - k*3, k * 57, k % 5, k * 11})
		}
	}
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, pick uint8, changes []byte) {
		data := changed(models[int(pick)%len(models)], changes)
		bounded.Work(t, len(data), bounded.Limit{Base: 512 << 20, PerByte: 20_000}, func() {
			one, many := outcome(t, dir, data, 1), outcome(t, dir, data, 3)
			if !bytes.Equal(one, many) {
				t.Errorf("one worker finds otherwise than three%s", firstDifference(one, many))
			}
		})
	})
}

// exchanged are values that parameters become.
var exchanged = strings.Fields("0. -1. 1.E9 1.E-9 1.E300 NaN $ * () (0.,0.) (0.,0.,0.) .T. .F. 0 1 -1 100000 'x' '' 'CF-1' 1.5707963 0.5 IFCLABEL('M20') IFCLENGTHMEASURE(1.E300)")

// changed is a model with parameters exchanged.
func changed(data []byte, changes []byte) []byte {
	lines := strings.Split(string(data), "\n")
	first, count := 0, 0
	for i, l := range lines {
		if strings.HasPrefix(l, "#") {
			if count == 0 {
				first = i
			}
			count++
		}
	}
	for k := 0; k+3 < len(changes) && k < 32; k += 4 {
		at := first + (int(changes[k])*256+int(changes[k+1]))*count/65536
		spans := parameter.FindAllStringIndex(lines[at], -1)
		if len(spans) < 3 {
			continue
		}
		s := spans[2+int(changes[k+2])%(len(spans)-2)]
		to := fmt.Sprintf("#%d", 1+int(changes[k+3])*count/256)
		if n := int(changes[k+3]); n%2 == 0 {
			to = exchanged[n/2%len(exchanged)]
		}
		lines[at] = lines[at][:s[0]] + to + lines[at][s[1]:]
	}
	return []byte(strings.Join(lines, "\n"))
}

// outcome is findings.json of a model, or the error.
func outcome(t *testing.T, dir string, data []byte, workers int) []byte {
	t.Helper()
	path := filepath.Join(dir, "model.ifc")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	m, run, err := check.Run([]string{path}, check.Options{Workers: workers, Rules: rules.Builtin()})
	if err != nil {
		return []byte(err.Error())
	}
	if h := len(m.Hosts); h > 0 && len(m.Items) > 0 && m.Hosts[0].Box.Empty() {
		t.Errorf("host %s has an empty box", m.Hosts[0].Name)
	}
	var out bytes.Buffer
	if err := report.WriteJSON(&out, run); err != nil { // numbers that are not finite are no JSON
		t.Fatal(err)
	}
	return out.Bytes()
}

// The changes above reach what they are meant to: references, and values.
func TestChangedModels(t *testing.T) {
	model := wholeModels()[0]
	if got := changed(model, nil); !bytes.Equal(got, model) {
		t.Error("without a change it is another model")
	}
	same := 0
	for k := range byte(250) {
		if bytes.Equal(changed(model, []byte{k, 7, 1, k}), model) {
			same++
		}
	}
	if same > 50 {
		t.Errorf("%d of 250 changes change nothing", same)
	}
}
