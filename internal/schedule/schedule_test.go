package schedule_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/check"
	"embedcheck/internal/demo"
	"embedcheck/internal/grid"
	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/internal/model"
	"embedcheck/internal/schedule"
	"embedcheck/rules"
)

func read(t *testing.T, files ...[]byte) *model.Model {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for i, data := range files {
		p := filepath.Join(dir, fmt.Sprintf("%d.ifc", i))
		if err := os.WriteFile(p, data, 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, p)
	}
	m, err := check.Read(paths, check.Options{Workers: 2, Rules: rules.Builtin()})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

var galvanised = []ib.PSet{{Name: "Finish", Props: []ib.Prop{ib.Label("Finish", "Galvanised")}}}

// pump is a set of four hooked bolts in a template with a nut on each side of it.
func pump(name string) embed.Set {
	return embed.Set{
		Name: name, BoltName: "L-bolt M20 4.6", Material: "Steel 4.6", Finish: galvanised, Thread: 100, Nuts: true,
		Pattern: embed.Grid(2, 2, 600, 400), Turns: []float64{0, 180, 0, 180},
		Bolt:     embed.Bolt{D: 20, Depth: 260, Out: 110, End: embed.L, Leg: 110},
		Template: &embed.Template{W: 720, H: 520, T: 8, Hole: 22, Under: 60},
	}
}

// places are where things stand: as drawn, moved, turned, standing, far away.
func places() []ib.Frame {
	return []ib.Frame{ib.At(0, 0, 0), ib.At(5000, 300, 10), ib.At(12000, 0, 0).TurnZ(37).TurnX(12), ib.At(20000, 0, 0).TurnX(90), ib.At(2.5e6, 7e6, 1e5).TurnZ(-61)}
}

// block is a footing around a place, its upper face in the xy plane.
func block(b *ib.Builder, mark string, at ib.Frame) {
	b.Add(ib.Element{Class: "IfcFooting", Name: mark, Tag: mark, At: at, Material: "Concrete", Body: []ib.Solid{ib.Block(ib.V(-700, -600, -500), ib.V(700, 600, 0))}})
}

// sets writes one model with a set in each place; change makes set i another one.
func sets(schema ib.Schema, unit ib.Unit, at []ib.Frame, change func(i int, s *embed.Set)) []byte {
	b := ib.New(schema, unit, ib.Seed(fmt.Sprint(schema, unit)))
	for i, f := range at {
		s := pump(fmt.Sprintf("HD-%d", i+1))
		if change != nil {
			change(i, &s)
		}
		block(b, fmt.Sprintf("PB-%d", i+1), f)
		s.Assembly(b, ib.Element{At: f})
	}
	return b.Bytes()
}

func lines(s *schedule.Schedule) string {
	var out []string
	for _, l := range s.Lines {
		text := fmt.Sprintf("%d x %s", l.Count(), l.What())
		if l.MirrorOf > 0 {
			text += fmt.Sprintf(" mirror of %d", l.MirrorOf)
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

func TestTheSameSetAnywhereIsOneLine(t *testing.T) {
	for _, c := range []struct {
		schema ib.Schema
		unit   ib.Unit
	}{{ib.IFC4, ib.MM}, {ib.IFC2X3, ib.Metre}, {ib.IFC4X3, ib.Inch}, {ib.IFC4, ib.Foot}} {
		s := schedule.Of(read(t, sets(c.schema, c.unit, places(), nil)))
		if got := lines(s); got != "5 x 4 bolts with template" {
			t.Errorf("%v, %v: %s", c.schema, c.unit, got)
		}
	}
	s := schedule.Of(read(t, sets(ib.IFC4, ib.MM, places()[:2], nil), sets(ib.IFC4X3, ib.Inch, places()[2:3], nil)))
	if got := lines(s); got != "3 x 4 bolts with template" {
		t.Errorf("millimetres and inches side by side: %s", got)
	}
}

// TestWhatIsNotTheSame changes the second of two sets by a little less and a
// little more than rounding explains, and by what geometry does not show.
func TestWhatIsNotTheSame(t *testing.T) {
	const one, two = "2 x 4 bolts with template", "1 x 4 bolts with template; 1 x 4 bolts with template"
	for _, c := range []struct {
		name   string
		change func(s *embed.Set)
		want   string
	}{
		{"names", func(s *embed.Set) { s.BoltName = "Other bolt M20 4.6" }, one},
		{"0.4 mm longer", func(s *embed.Set) { s.Bolt.Depth += 0.4 }, one},
		{"0.7 mm longer", func(s *embed.Set) { s.Bolt.Depth += 0.7 }, two},
		{"0.4 mm wider", func(s *embed.Set) { s.Pattern = embed.Grid(2, 2, 600.4, 400) }, one},
		{"0.8 mm wider", func(s *embed.Set) { s.Pattern = embed.Grid(2, 2, 600.8, 400) }, two},
		{"template thicker", func(s *embed.Set) { s.Template.T += 2 }, two},
		{"hooks turned", func(s *embed.Set) { s.Turns = []float64{90, 180, 0, 180} }, two},
		{"other nominal size", func(s *embed.Set) { s.Bolt.D = 22 }, two},
		{"no nuts", func(s *embed.Set) { s.Nuts = false }, two},
		{"other finish", func(s *embed.Set) {
			s.Finish = []ib.PSet{{Name: "Finish", Props: []ib.Prop{ib.Label("Finish", "Stainless")}}}
		}, two},
		{"finish in capitals", func(s *embed.Set) {
			s.Finish = []ib.PSet{{Name: "Finish", Props: []ib.Prop{ib.Label("Finish", "GALVANISED")}}}
		}, one},
		{"no finish", func(s *embed.Set) { s.Finish = nil }, two},
		{"other thread", func(s *embed.Set) { s.Thread = 120 }, two},
		{"other grade", func(s *embed.Set) { s.BoltName, s.Material = "L-bolt M20 8.8", "Steel 8.8" }, two},
	} {
		data := sets(ib.IFC4, ib.MM, places()[2:4], func(i int, s *embed.Set) {
			if i == 1 {
				c.change(s)
			}
		})
		if got := lines(schedule.Of(read(t, data))); got != c.want {
			t.Errorf("%s: %s", c.name, got)
		}
	}
}

// TestMirrorImagesAreToldApart: three studs at the corners of a triangle with
// unequal sides; its mirror image fits no turned one. A rectangle of studs is
// its own mirror image.
func TestMirrorImagesAreToldApart(t *testing.T) {
	const what = " x plate with %d studs or ties"
	triangle := []ib.XY{{X: -70, Y: -70}, {X: 70, Y: -70}, {X: -70, Y: 20}}
	for _, c := range []struct {
		name    string
		pattern []ib.XY
		want    string
	}{
		{"triangle", triangle, fmt.Sprintf("2"+what+"; 1"+what+" mirror of 1", 3, 3)},
		{"rectangle", embed.Grid(2, 2, 140, 90), fmt.Sprintf("3"+what, 4)},
	} {
		b := ib.New(ib.IFC4, ib.Metre)
		for i, at := range places()[1:4] {
			pattern := c.pattern
			if i == 1 {
				pattern = slices.Clone(pattern)
				for k := range pattern {
					pattern[k].X = -pattern[k].X
				}
			}
			block(b, fmt.Sprintf("B-%d", i), at)
			embed.Plate{W: 200, H: 200, T: 12, Stud: embed.Stud{D: 16, Length: 100, Head: 32, HeadT: 8}, Pattern: pattern,
				Name: "Cast-in plate", Tag: fmt.Sprintf("CP-%d", i), Material: "Steel S355", Finish: galvanised}.One(b, ib.Element{At: at})
		}
		if got := lines(schedule.Of(read(t, b.Bytes()))); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// cells are the cells of the first line of the order by the keys of the columns.
func cells(t *testing.T, s *schedule.Schedule) map[string]string {
	t.Helper()
	order := s.Order()
	if len(order.Rows) == 0 {
		t.Fatal("the order is empty")
	}
	out := map[string]string{}
	for i, c := range order.Columns {
		out[c.Key()] = c.Show(order.Rows[0][i])
	}
	return out
}

// TestTheFiguresOfALine works them out by hand: length 110 + 260 + 20; hook of
// centreline radius 40, so developed 370+10-40 + pi/2 x 40 + 110-10-40 = 462.83;
// mass of a bolt pi/4 20^2 x 462.83, of the template (720 x 520 - 4 x pi/4 22^2) x 8,
// of a nut of 30 across flats and 18 high with a hole of 20; by table the bars
// weigh 4 x 0.46283 m x 2.47 kg/m.
func TestTheFiguresOfALine(t *testing.T) {
	got := cells(t, schedule.Of(read(t, sets(ib.IFC4, ib.Foot, places()[3:4], nil))))
	for key, want := range map[string]string{
		"count": "1", "what": "4 bolts with template", "plate": "720 x 520 x 8", "anchors_each": "4", "size": "M20", "length_mm": "390",
		"developed_length_mm": "462.8", "end": "L, leg 110", "thread_mm": "100", "nuts_above": "4", "nuts_below": "4", "nuts_embedded": "",
		"washers_above": "", "finish": "Galvanised", "grade": "4.6; Steel S275", "mass_each_kg": "28.51", "mass_total_kg": "28.51", "mass_from": "geometry", "bars_each_by_table_kg": "4.57", "marks": "HD-1",
	} {
		if got[key] != want {
			t.Errorf("%s: %q, want %q", key, got[key], want)
		}
	}
}

func TestNutsAndWashersInTheConcrete(t *testing.T) {
	b := ib.New(ib.IFC4, ib.MM)
	at := places()[2]
	block(b, "B", at)
	embed.Bolt{D: 24, Depth: 300, Out: 120, End: embed.Nutted, Washer: 80, Thick: 10, Nuts: []float64{30, 60}}.Add(b, ib.Element{
		Name: "Rod M24 8.8", Tag: "R-1", At: at, Material: "Steel 8.8",
	})
	got := cells(t, schedule.Of(read(t, b.Bytes())))
	for key, want := range map[string]string{"nuts_above": "2", "nuts_below": "", "nuts_embedded": "1", "washers_embedded": "1", "finish": "NOT STATED", "grade": "8.8"} {
		if got[key] != want {
			t.Errorf("%s: %q, want %q", key, got[key], want)
		}
	}
}

// TestGapsAreThoseOfTheRules compares what the rules find with what the
// schedule shows, item by item, in both directions.
func TestGapsAreThoseOfTheRules(t *testing.T) {
	var all [][]byte
	for _, f := range demo.Files() {
		all = append(all, f.Bytes())
	}
	_, panel, _ := demo.Yard{Schema: ib.IFC4, Unit: ib.MM}.Panel(0)
	public, _ := filepath.Glob("../../../shared/data/models/*.ifc")
	cases := [][][]byte{all, {panel}, {sets(ib.IFC4, ib.Inch, places()[1:4], func(i int, s *embed.Set) {
		if s.BoltName = "Anchor"; i == 1 {
			s.Material, s.Finish = "Steel", nil
		}
	})}}
	for _, p := range public {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		cases = append(cases, [][]byte{data})
	}
	gaps := 0
	for i, c := range cases {
		m := read(t, c...)
		want := foundByRules(t, m)
		var got []string
		for _, g := range schedule.Of(m).Gaps {
			if strings.HasSuffix(g.Rule, "-stated") {
				got = append(got, g.Rule+" "+g.Item.GlobalID+" "+g.Item.Name)
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("case %d: the schedule has %d gaps, the rules %d\n%q\n%q", i, len(got), len(want), got, want)
		}
		gaps += len(got)
	}
	if gaps == 0 {
		t.Error("no gap in any model: the test says nothing")
	}
}

func foundByRules(t *testing.T, m *model.Model) []string {
	t.Helper()
	found, err := rules.Run(m, rules.Builtin(), 1)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range found {
		if !strings.HasSuffix(f.Rule, "-stated") {
			continue
		}
		for _, in := range f.Instances {
			out = append(out, f.Rule+" "+in.Item.GlobalID+" "+in.Item.Name)
		}
	}
	slices.Sort(out)
	return out
}

// TestWhatStandsInOnePlace: the second of two bolts stands where the first one
// does, or a little beside it.
func TestWhatStandsInOnePlace(t *testing.T) {
	for aside, want := range map[float64]int{0: 1, 0.4: 1, 0.6: 0, 200: 0} {
		b := ib.New(ib.IFC4, ib.Metre)
		at := places()[2]
		block(b, "B", at)
		for i, x := range []float64{0, aside} {
			embed.Bolt{D: 20, Depth: 200, Out: 100, End: embed.L, Leg: 90}.Add(b, ib.Element{
				Name: "Bolt M20 4.6", Tag: fmt.Sprintf("B-%d", i), At: at.Mul(ib.At(x, 0, 0)), Props: galvanised,
			})
		}
		twice := 0
		for _, g := range schedule.Of(read(t, b.Bytes())).Gaps {
			if g.Rule == "duplicate" {
				twice++
			}
		}
		if twice != want {
			t.Errorf("%g mm aside: %d too many, want %d", aside, twice, want)
		}
	}
}

// TestHostsAddUpToTheOrder: every unit is in one host, and masses agree.
func TestHostsAddUpToTheOrder(t *testing.T) {
	var all [][]byte
	for _, f := range demo.Files() {
		all = append(all, f.Bytes())
	}
	s := schedule.Of(read(t, all...))
	total, _ := s.Mass()
	sum, counted := 0.0, 0
	hosts := s.Hosts()
	for _, r := range hosts.Rows {
		if v, ok := r[8].Float(); ok {
			sum += v
		}
		n, _ := r[3].Float()
		counted += int(n)
	}
	units := 0
	for _, l := range s.Lines {
		units += l.Count()
	}
	if counted != units || units == 0 || sum < total-0.01 || sum > total+0.01 {
		t.Errorf("%d of %d units, %.3f of %.3f kg", counted, units, sum, total)
	}
}

// formula is a cell of a CSV file that a spreadsheet would run.
var formula = regexp.MustCompile(`(?m)(^|,)"?[=@].*`)

// TestHostileNames: what a model calls things steers no terminal and runs in no
// spreadsheet.
func TestHostileNames(t *testing.T) {
	bad := "=cmd|'\x1b[2J\n\u202e'!A1"
	b := ib.New(ib.IFC4, ib.MM)
	b.Add(ib.Element{Class: "IfcFooting", Name: bad, Tag: bad, Material: "Concrete", Body: []ib.Solid{ib.Block(ib.V(-700, -600, -500), ib.V(700, 600, 0))}})
	embed.Bolt{D: 20, Depth: 200, Out: 100, End: embed.Headed}.Add(b, ib.Element{Name: bad, Tag: bad, Material: bad,
		Props: []ib.PSet{{Name: "Finish", Props: []ib.Prop{ib.Label("Finish", bad)}}}})
	s := schedule.Of(read(t, b.Bytes()))
	if len(s.Lines) != 1 {
		t.Fatalf("%d lines", len(s.Lines))
	}
	for _, table := range append(s.Tables(), s.Printed(), s.PrintedHosts(), s.PrintedGaps()) {
		var out strings.Builder
		if err := grid.WriteCSV(&out, table); err != nil {
			t.Fatal(err)
		}
		text := strings.ReplaceAll(out.String(), "\r\n", "")
		if strings.ContainsAny(text, "\x1b\n\u202e") {
			t.Errorf("%s carries control characters", table.Name)
		}
		if f := formula.FindString(out.String()); f != "" {
			t.Errorf("%s holds a formula: %q", table.Name, f)
		}
	}
}
