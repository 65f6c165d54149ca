package lifecycle_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/internal/bcf"
	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/lifecycle"
	"embedcheck/internal/report"
	"embedcheck/rules"
)

// release is a slab of 2000 x 1000 x 200 mm with one M20 L-bolt whose axis is
// 80 mm from the edge at x = 0, where 6 diameters ask for 120 mm.
type release struct {
	file  string
	place ifc.Frame
	unit  ifc.Unit
	seed  string
	bolt  string
	x     float64
	none  bool // no bolt
	twice bool // the bolt again under another name, 500 mm along the edge
	slab  string
}

func first() release {
	return release{file: "a.ifc", place: ifc.At(0, 0, 0), unit: ifc.MM, seed: "one", bolt: "HB1", x: 80, slab: "SL-1"}
}

func (r release) bytes() []byte {
	b := ifc.New(ifc.IFC4, r.unit, ifc.Placed(r.place), ifc.Seed(r.seed))
	at := ifc.At(0, 0, 0)
	b.Add(ifc.Element{Class: "IfcSlab", Name: r.slab, At: at, Material: "Concrete C32/40",
		Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, 0), ifc.V(2000, 1000, 200))}})
	add := func(name string, x, y float64) {
		p := ifc.Bent(40, ifc.V(x, y, 300), ifc.V(x, y, 50), ifc.V(x+100, y, 50))
		b.Add(ifc.Element{Class: "IfcMechanicalFastener", Name: name, Predefined: "ANCHORBOLT", At: at,
			Body: []ifc.Solid{ifc.Rod(p, 20)}, Material: "Steel 8.8"})
	}
	if !r.none {
		add(r.bolt, r.x, 300)
	}
	if r.twice {
		add("HB9", r.x, 800)
	}
	return b.Bytes()
}

// run checks a release and gives the edge distances found, with what the next
// comparison needs.
func run(t *testing.T, r release, set *rules.Set, since *lifecycle.Earlier) (*finding.Run, *finding.Comparison) {
	t.Helper()
	path := filepath.Join(t.TempDir(), r.file)
	if err := os.WriteFile(path, r.bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	m, out, err := check.Run([]string{path}, check.Options{Workers: 2, Rules: set})
	if err != nil {
		t.Fatal(err)
	}
	p := lifecycle.Look(m, set, out)
	p.Place()
	if since == nil {
		return out, nil
	}
	return out, lifecycle.Compare(out, since, p)
}

// throughFile is a run as a later one reads it.
func throughFile(t *testing.T, r *finding.Run) *lifecycle.Earlier {
	t.Helper()
	path := filepath.Join(t.TempDir(), "findings.json")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := report.WriteJSON(f, r); err != nil {
		t.Fatal(err)
	}
	f.Close()
	e, err := lifecycle.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func edges(r *finding.Run) []*finding.Finding {
	var list []*finding.Finding
	for i := range r.Findings {
		if r.Findings[i].Rule == "edge-distance" {
			list = append(list, &r.Findings[i])
		}
	}
	return list
}

func limit(mm float64) *rules.Set {
	s := rules.Builtin()
	s.Name = "other"
	s.Rules = map[string]rules.Change{"edge-distance": {Limit: rules.Limit{{Unit: "mm", Value: mm}}}}
	return s
}

func TestEditsOfAModel(t *testing.T) {
	was, _ := run(t, first(), rules.Builtin(), nil)
	if len(edges(was)) != 1 {
		t.Fatalf("%d edge distances in the first release, want 1", len(edges(was)))
	}
	id := edges(was)[0].ID
	for _, c := range []struct {
		name string
		edit func(*release)
		want []finding.State
		gone string // beginning of the reason
	}{
		{"nothing", func(*release) {}, []finding.State{finding.Persisting}, ""},
		{"new GlobalIds", func(r *release) { r.seed = "two" }, []finding.State{finding.Persisting}, ""},
		{"item renamed", func(r *release) { r.bolt = "AB-7" }, []finding.State{finding.Persisting}, ""},
		{"project moved and turned", func(r *release) { r.place = ifc.At(5e6, -3e6, 100).TurnZ(37) }, []finding.State{finding.Persisting}, ""},
		{"other file name", func(r *release) { r.file = "b.ifc" }, []finding.State{finding.Persisting}, ""},
		{"other unit", func(r *release) { r.unit = ifc.Foot }, []finding.State{finding.Persisting}, ""},
		{"all of it at once", func(r *release) {
			r.seed, r.file, r.unit, r.place = "two", "b.ifc", ifc.Metre, ifc.At(1e6, 2e6, 0).TurnZ(-61)
		}, []finding.State{finding.Persisting}, ""},
		{"30 mm nearer", func(r *release) { r.x = 50 }, []finding.State{finding.Worse}, ""},
		{"30 mm off", func(r *release) { r.x = 110 }, []finding.State{finding.Better}, ""},
		{"30 mm nearer, new GlobalIds", func(r *release) { r.x, r.seed = 50, "two" }, []finding.State{finding.Worse}, ""},
		{"0.05 mm nearer", func(r *release) { r.x = 79.95 }, []finding.State{finding.Persisting}, ""},
		{"0.2 mm nearer", func(r *release) { r.x = 79.8 }, []finding.State{finding.Worse}, ""},
		{"far enough", func(r *release) { r.x = 200 }, nil, "item moved: HB1, by 120 mm"},
		{"item deleted", func(r *release) { r.none = true }, nil, "item gone: HB1"},
		{"another like it", func(r *release) { r.twice = true }, []finding.State{finding.Persisting, finding.New}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := first()
			c.edit(&r)
			is, compared := run(t, r, rules.Builtin(), throughFile(t, was))
			checkStates(t, edges(is), c.want, id)
			checkGone(t, compared, c.gone)
		})
	}
}

func checkStates(t *testing.T, list []*finding.Finding, want []finding.State, id string) {
	t.Helper()
	left := map[finding.State]int{}
	for _, s := range want {
		left[s]++
	}
	for _, f := range list {
		left[f.Life.State]--
		if (f.Life.State == finding.New) == (f.ID == id) {
			t.Errorf("%s finding has id %s; that of the first release is %s", f.Life.State, f.ID, id)
		}
	}
	for s, n := range left {
		if n != 0 {
			t.Errorf("%d findings too few that are %s", n, s)
		}
	}
}

func checkGone(t *testing.T, c *finding.Comparison, want string) {
	t.Helper()
	got := ""
	for _, r := range c.Resolved {
		if r.Finding.Rule == "edge-distance" {
			got = r.Reason
		}
	}
	if want == "" && got != "" || !strings.HasPrefix(got, want) {
		t.Errorf("resolved because %q, want %q", got, want)
	}
}

func TestLimitsThatChange(t *testing.T) {
	was, _ := run(t, first(), rules.Builtin(), nil)
	id := edges(was)[0].ID
	is, c := run(t, first(), limit(150), throughFile(t, was))
	checkStates(t, edges(is), []finding.State{finding.Worse}, id)
	checkGone(t, c, "")
	is, c = run(t, first(), limit(70), throughFile(t, was))
	checkStates(t, edges(is), nil, id)
	checkGone(t, c, "limit changed: 120 mm before")
	off := rules.Builtin()
	yes := true
	off.Rules = map[string]rules.Change{"edge-distance": {Off: &yes}}
	_, c = run(t, first(), off, throughFile(t, was))
	checkGone(t, c, "rule off")
}

func TestIssueListKeepsWhatOthersAdd(t *testing.T) {
	was, _ := run(t, first(), rules.Builtin(), nil)
	dir := t.TempDir()
	w := &bcf.Writer{Author: "embedcheck"}
	theirs := filepath.Join(dir, "theirs.bcf")
	write := func(path string, r *finding.Run, e *lifecycle.Earlier, c *finding.Comparison) {
		t.Helper()
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if err := lifecycle.WriteIssues(f, w, r, e, c); err != nil {
			t.Fatal(err)
		}
	}
	write(filepath.Join(dir, "ours.bcf"), was, nil, nil)
	a, err := bcf.Open(filepath.Join(dir, "ours.bcf"))
	if err != nil {
		t.Fatal(err)
	}
	guid := bcf.TopicGUID(edges(was)[0].ID)
	for _, o := range a.Topics {
		if o.GUID == guid {
			o.Status, o.AssignedTo, o.DueDate = "In progress", "drafter@example.com", "2026-04-01T00:00:00Z"
			o.Labels = append(o.Labels, "north")
			o.Comments = append(o.Comments, bcf.Comment{GUID: "11111111-2222-4333-8444-555555555555", Date: "2026-03-03T00:00:00Z", Author: "drafter@example.com", Text: "will move it"})
		}
	}
	foreign := "99999999-2222-4333-8444-555555555555"
	a.Topics = append(a.Topics, &bcf.Topic{GUID: foreign, Type: "Clash", Status: "Open", Title: "Pipe", CreationDate: "2026-03-03T00:00:00Z", CreationAuthor: "x@example.com"})
	f, _ := os.Create(theirs)
	if err := a.Write(f, bcf.V21); err != nil {
		t.Fatal(err)
	}
	f.Close()
	for _, c := range []struct {
		name, status string
		x            float64
	}{{"found again", "In progress", 50}, {"resolved", "Closed", 200}} {
		t.Run(c.name, func(t *testing.T) {
			e, err := lifecycle.Load(theirs)
			if err != nil {
				t.Fatal(err)
			}
			defer e.Close()
			r := first()
			r.x = c.x
			is, compared := run(t, r, rules.Builtin(), e)
			e.Listen(is, "embedcheck")
			path := filepath.Join(dir, c.name+".bcf")
			write(path, is, e, compared)
			b, err := bcf.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			defer b.Close()
			topics := map[string]*bcf.Topic{}
			for _, o := range b.Topics {
				if topics[o.GUID] != nil {
					t.Errorf("topic %s is there twice", o.GUID)
				}
				topics[o.GUID] = o
			}
			o := topics[guid]
			if o == nil || topics[foreign] == nil || topics[foreign].Title != "Pipe" {
				t.Fatal("a topic is lost")
			}
			if o.Status != c.status || o.AssignedTo != "drafter@example.com" || !strings.HasPrefix(o.DueDate, "2026-04-01") {
				t.Errorf("status %q, assigned to %q, due %q", o.Status, o.AssignedTo, o.DueDate)
			}
			said := ""
			for _, k := range o.Comments {
				said += k.Text + "\n"
			}
			if !strings.Contains(said, "will move it") || (c.status == "Closed") != strings.Contains(said, "Resolved: ") {
				t.Errorf("comments are %q", said)
			}
			if !strings.Contains(strings.Join(o.Labels, " "), "north") {
				t.Errorf("labels are %q", o.Labels)
			}
		})
	}
}
