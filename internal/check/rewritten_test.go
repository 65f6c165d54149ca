package check_test

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/demo"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/ifcxml"
	"embedcheck/internal/ifcbuild/rewrite"
	"embedcheck/rules"
)

// rewriting is a way to write models again that changes nothing of what they
// mean, and what of the findings it changes.
type rewriting struct {
	name string
	of   func([]rewrite.File) ([]rewrite.File, error)

	public bool      // the public models are written so, too
	place  ifc.Frame // where the findings move to; zero: they stay
	mirror bool      // and are mirrored in x = 0
	turned bool      // other sides are up and left: words for them and what goes by them change
	names  bool      // files have other names
	still  bool      // the models are still as they were
	ids    bool      // findings have other ids: the same place in the mirrored host is another one
}

// The map coordinates are those of a city in the south, in millimetres.
var (
	aboutZ = ifc.At(0, 0, 0).TurnZ(37)
	anyhow = ifc.At(1234, -5678, 910).TurnZ(37).TurnX(65).TurnY(-20)
	onMap  = ifc.At(1.748e9, 5.428e9, 12_345)

	quarter, moved, turnedOnMap = ifc.At(0, 0, 0).TurnZ(90), ifc.At(123.4, -567.8, 9.1), onMap.TurnZ(-61)
)

var rewritings = []rewriting{
	{name: "written again", of: rewrite.Each()},
	{name: "in another order", of: rewrite.Each(rewrite.Shuffle(7))},
	{name: "under other numbers", of: rewrite.Each(rewrite.Renumber(8))},
	{name: "turned about z", of: rewrite.Each(rewrite.Place(aboutZ)), place: aboutZ, turned: true},
	{name: "turned by a quarter", of: rewrite.Each(rewrite.Place(quarter)), place: quarter, turned: true},
	{name: "moved", of: rewrite.Each(rewrite.Place(moved)), place: moved},
	{name: "turned anyhow", of: rewrite.Each(rewrite.Place(anyhow)), place: anyhow, turned: true},
	{name: "turned by its world", of: rewrite.Each(rewrite.PlaceWorld(aboutZ)), place: aboutZ, turned: true},
	{name: "moved to the map", public: true, of: rewrite.Each(rewrite.Place(onMap)), place: onMap},
	{name: "turned on the map", of: rewrite.Each(rewrite.Place(turnedOnMap)), place: turnedOnMap, turned: true},
	{name: "baked on the map", of: rewrite.Each(rewrite.Bake(turnedOnMap)), place: turnedOnMap, turned: true},
	{name: "mirrored", public: true, of: rewrite.Each(rewrite.Mirror), mirror: true, turned: true, ids: true},
	{name: "in metres", of: rewrite.Each(rewrite.Rescale("METRE"))},
	{name: "in millimetres", of: rewrite.Each(rewrite.Rescale("MILLIMETRE"))},
	{name: "in feet", of: rewrite.Each(rewrite.Rescale("FOOT"))},
	{name: "in inches", public: true, of: rewrite.Each(rewrite.Rescale("INCH"))},
	{name: "split into files", of: rewrite.SplitFiles, names: true},
	{name: "as flat XML", of: rewrite.AsXML(ifcxml.Flat), names: true},
	{name: "as nested XML", public: true, of: rewrite.AsXML(ifcxml.Nested), names: true},
	{name: "packed", of: rewrite.Zipped, names: true},
	{name: "all of it", of: rewrite.Each(rewrite.Rescale("INCH"), rewrite.Place(turnedOnMap), rewrite.Renumber(5), rewrite.Shuffle(6)), place: turnedOnMap, turned: true},
}

// TestModelsWrittenAgain writes models again in every way that changes nothing
// of what they mean: the findings are the same, figure by figure. The public
// models are large and take a few of the ways; REWRITTEN=all takes all.
func TestModelsWrittenAgain(t *testing.T) {
	for name, files := range toRewrite(t) {
		t.Run(name, func(t *testing.T) {
			if len(files) == 0 {
				t.Skip("the public models are not beside the checkout")
			}
			before := map[string][]fact{}
			for _, w := range rewritings {
				if large := name != "demo" && name != "yard"; large && !w.public && os.Getenv("REWRITTEN") != "all" {
					continue
				} else if large {
					w.ids = w.ids || w.turned // hosts that are alike are told apart by their places in the world
				}
				t.Run(w.name, func(t *testing.T) {
					again, err := w.of(files)
					if err != nil {
						t.Fatal(err)
					}
					as := w
					as.still, as.name, as.of = true, "", nil
					key := fmt.Sprint(as)
					if before[key] == nil {
						before[key] = facts(t, files, as)
					}
					compareFacts(t, facts(t, again, w), before[key])
				})
			}
		})
	}
}

// toRewrite are the demonstration models together, a yard with every fault of it,
// and the public models; those without files where they are not there.
func toRewrite(t *testing.T) map[string][]rewrite.File {
	t.Helper()
	var yard bytes.Buffer
	if _, err := (demo.Yard{Panels: 19, Schema: ifc.IFC4}).Write(&yard); err != nil {
		t.Fatal(err)
	}
	out := map[string][]rewrite.File{"yard": {{Name: "yard.ifc", Data: yard.Bytes()}}}
	for _, p := range demoModels(t) {
		out["demo"] = append(out["demo"], readFile(t, p))
	}
	for _, name := range []string{"precast-building", "precast-stairs-with-rebar", "reinforced-beam-ifc4x3"} {
		out[name] = nil
		if path := filepath.Join("..", "..", "..", "shared", "data", "models", name+".ifc"); exists(path) {
			out[name] = []rewrite.File{readFile(t, path)}
		}
	}
	return out
}

func exists(path string) bool { _, err := os.Stat(path); return err == nil }

func readFile(t *testing.T, path string) rewrite.File {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return rewrite.File{Name: filepath.Base(path), Data: data}
}

// fact is one place that a finding is about: what is said of it without its
// figures, and these.
type fact struct {
	text    string
	figures []float64
}

// facts are all that is found in some files, brought back to where they were
// before they were written again.
func facts(t *testing.T, files []rewrite.File, w rewriting) []fact {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for _, f := range files {
		path := filepath.Join(dir, f.Name)
		if err := os.WriteFile(path, f.Data, 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	_, run, err := check.Run(paths, check.Options{Workers: 2, Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	out := []fact{{text: fmt.Sprintf("%+v", run.Counts)}}
	for i := range run.Findings {
		for k := range run.Findings[i].Instances {
			out = append(out, w.factOf(&run.Findings[i], &run.Findings[i].Instances[k]))
		}
	}
	slices.SortFunc(out, func(a, b fact) int {
		return cmp.Or(cmp.Compare(a.text, b.text), slices.CompareFunc(a.figures, b.figures, func(x, y float64) int {
			if math.Abs(x-y) <= near {
				return 0
			}
			return cmp.Compare(x, y)
		}))
	})
	return out
}

// near is how near figures have to be: that of findings.json, which has mm and
// degrees to two places, and places in metres to six.
const near = 0.011

// tied are rules whose place may be one of several that are equally near: a bar
// through the middle of an item is, on both sides.
var tied = []string{"plate-edge", "reinforcement-clearance", "item-clearance"}

// factOf is one place of a finding.
func (w *rewriting) factOf(f *finding.Finding, in *finding.Instance) fact {
	refs := fmt.Sprint(w.ref(f.Host), w.ref(in.Item))
	for _, o := range in.Others {
		refs += w.ref(o)
	}
	out := fact{text: fmt.Sprintln(f.Rule, f.Priority, f.Status, len(f.Instances), f.Set, refs, in.Kind, in.Anchor, in.Unit, in.Relation, in.Governs, f.Source)}
	if moved := w.place.Z != (ifc.Vec{}); !w.ids && !(moved && f.Host == (finding.Ref{})) { // what has no host is placed in the world
		out.text += f.ID + "\n"
	}
	if slices.Contains(tied, f.Rule) {
		in.At = geom.Vec{}
	}
	at, normal := w.back(in.At, 1).Mul(1000), w.back(in.Normal, 0)
	if slices.Contains(tied, f.Rule) {
		at = geom.Vec{}
	}
	out.figures = []float64{in.Measured, in.Required, at.X, at.Y, at.Z, normal.X, normal.Y, normal.Z}
	if !w.turned {
		for _, s := range []string{f.Title, f.Message, in.Text} {
			if w.names {
				s = fileName.ReplaceAllString(s, "FILE")
			}
			out.text += decimal.ReplaceAllStringFunc(s, func(d string) string {
				v, _ := strconv.ParseFloat(d, 64)
				out.figures = append(out.figures, v/10) // texts have one place
				return "N"
			}) + "\n"
		}
	}
	return out
}

var fileName = regexp.MustCompile(`[\w-]+\.ifc\w*`)

var decimal = regexp.MustCompile(`\b\d+\.\d\b`)

func (w *rewriting) ref(r finding.Ref) string {
	model := r.Model
	if w.names {
		model = ""
	}
	return fmt.Sprintf("[%s %s %q %q %s]", r.GlobalID, r.Class, r.Name, r.Mark, model)
}

// back is where a point (1) or direction (0) in metres was before.
func (w *rewriting) back(p geom.Vec, isPoint float64) geom.Vec {
	if w.still {
		return p
	}
	if f := w.place; f.Z != (ifc.Vec{}) {
		v := ifc.V(p.X, p.Y, p.Z).Sub(f.O.Mul(isPoint / 1000))
		p = geom.V(f.X.Dot(v), f.Y.Dot(v), f.Z.Dot(v))
	}
	if w.mirror {
		p.X = -p.X
	}
	return p
}

// compareFacts tells the first few of what is said in one list only, and the
// figures that differ.
func compareFacts(t *testing.T, got, want []fact) {
	t.Helper()
	told := 0
	tell := func(format string, args ...any) {
		if told++; told <= 4 {
			t.Errorf(format, args...)
		}
	}
	for i, j := 0, 0; i < len(got) || j < len(want); {
		switch {
		case j == len(want) || i < len(got) && got[i].text < want[j].text:
			tell("more is said than before:\n%v", got[i])
			i++
		case i == len(got) || got[i].text > want[j].text:
			tell("is not said any more:\n%v", want[j])
			j++
		default:
			if !slices.EqualFunc(got[i].figures, want[j].figures, func(x, y float64) bool { return math.Abs(x-y) <= near }) {
				tell("%s has the figures\n%v, before\n%v", got[i].text, got[i].figures, want[j].figures)
			}
			i, j = i+1, j+1
		}
	}
	if told > 4 {
		t.Errorf("and %d more", told-4)
	}
}
