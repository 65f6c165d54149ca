package demo

import (
	"bytes"
	"errors"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/spfcheck"
)

var update = flag.Bool("update", false, "write testdata/demo anew")

const folder = "../../testdata/demo"

func TestFilesAreWhatIsWritten(t *testing.T) {
	var total int
	for _, f := range Files() {
		got := f.Bytes()
		total += len(got)
		path := filepath.Join(folder, f.Name)
		if *update {
			if err := os.MkdirAll(folder, 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s differs from what the package writes; run with -update", path)
		}
	}
	if total > 1_500_000 {
		t.Errorf("the files have %d bytes together, want at most 1.5 MB", total)
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".ifc") && !isOurs(e.Name()) {
			t.Errorf("%s is not written by the package", e.Name())
		}
	}
}

func isOurs(name string) bool {
	for _, f := range Files() {
		if f.Name == name {
			return true
		}
	}
	return false
}

func parse(t *testing.T, f File) *spfcheck.File {
	t.Helper()
	s, err := spfcheck.Parse(f.Bytes())
	if err != nil {
		t.Fatalf("%s: %v", f.Name, err)
	}
	return s
}

func TestFilesFitTheirSchemas(t *testing.T) {
	const path = "../../../shared/reference/entities.tsv"
	all, err := spfcheck.ReadSchemas(path)
	if errors.Is(err, os.ErrNotExist) {
		t.Skipf("%s is not there: attribute lists are not checked", path)
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range Files() {
		for _, err := range parse(t, f).Against(all) {
			t.Errorf("%s: %v", f.Name, err)
		}
	}
}

func TestFilesAreSound(t *testing.T) {
	seen := map[string]string{}
	for _, f := range Files() {
		s := parse(t, f)
		for _, err := range s.Sound() {
			t.Errorf("%s: %v", f.Name, err)
		}
		for _, i := range s.Insts {
			if g, ok := i.GlobalID(); ok {
				if other, ok := seen[g]; ok {
					t.Errorf("%s and %s share the GlobalId %s", other, f.Name, g)
				}
				seen[g] = f.Name
			}
		}
	}
}

// tagged are the products of all files by mark, with their boxes in mm.
type tagged struct {
	class string
	box   spfcheck.Box
}

func allTagged(t *testing.T) map[string][]tagged {
	t.Helper()
	out := map[string][]tagged{}
	for _, f := range Files() {
		s := parse(t, f)
		for _, i := range s.Insts {
			if len(i.Args) < 8 || i.Args[5].Kind != spfcheck.Ref || i.Args[7].Kind != spfcheck.Text {
				continue
			}
			one := tagged{class: i.Keyword}
			if i.Args[6].Kind == spfcheck.Ref {
				box, err := s.Box(i.ID, f.unit.MM())
				if err != nil {
					t.Fatalf("%s: %v", f.Name, err)
				}
				one.box = box
			}
			out[i.Args[7].Text] = append(out[i.Args[7].Text], one)
		}
	}
	return out
}

// Boxes in world coordinates, worked out by hand from the story: where each
// item enters, which way, and how deep.
func TestItemsStandWhereTheyAreMeant(t *testing.T) {
	all := allTagged(t)
	for _, c := range []struct {
		mark   string
		lo, hi ib.Vec
	}{
		{"BS-01", ib.V(-500, -500, -400), ib.V(7000, 4500, 0)},
		{"PB-02", ib.V(800, 2660, 0), ib.V(2300, 3800, 500)},
		{"WP-01", ib.V(0, 0, 0), ib.V(6400, 180, 3200)},
		{"WP-02", ib.V(0, 3820, 0), ib.V(6400, 4000, 3200)},
		{"WP-03", ib.V(0, 200, 0), ib.V(180, 3800, 3200)},
		{"WP-04", ib.V(6220, 200, 0), ib.V(6400, 3800, 3200)},
		{"RW-01", ib.V(8000, 6000, 0), ib.V(12000, 6300, 3000)},
		{"RP-01", ib.V(0, 8000, 0), ib.V(4000, 10400, 200)},
		{"WP-05", ib.V(0, 14000, 0), ib.V(4000, 14180, 1500)},
		{"CO-01", ib.V(5000, 1800, 20), ib.V(5400, 2200, 3620)},
		{"CO-01-K", ib.V(4700, 1800, 2400), ib.V(5000, 2200, 2800)},
		{"LA-01", ib.V(13000, 2000, 0), ib.V(14200, 3000, 300)},
		{"SF-01", ib.V(14300, 2000, 0), ib.V(16540, 3000, 1400)},

		// L-bolts of 20: leg to 100 from the axis, deepest 280, out 110.
		{"HD-1.1", ib.V(1240, 1120, 220), ib.V(1350, 1140, 610)},
		// Four shanks, and nuts of 34.6 x 30 on them.
		{"HD-2", ib.V(1250-17.32, 2730-15, 220), ib.V(1850+17.32, 3130+15, 610)},
		// J-bolt of 24 at (8950, 1850): hook of two radii of 48 to the middle.
		{"HD-3.2", ib.V(8842, 1838, -364), ib.V(8962, 1862, 130)},
		// L-bolt of 16 at (3950, 906), hook to the edge at y = 800: 14 are left.
		{"SB-1.2", ib.V(3942, 814, 384), ib.V(3958, 914, 680)},
		{"SB-2.2", ib.V(3660-17.32, 3035, 337.5), ib.V(3660+17.32, 3065, 690)},
		{"SB-2.3", ib.V(3730-17.32, 3035, 337.5), ib.V(3730+17.32, 3065, 690)},
		{"LB-1.1", ib.V(5800-17.32, 985, -57.5), ib.V(5800+17.32, 1015, 120)},
		{"HD-6.1", ib.V(8342, 4492, -256), ib.V(8358, 4592, 25)},
		// Ferrule of 24 on the inner face of the south wall, which looks to +y.
		{"F-1.1", ib.V(3545-12, 85, 950), ib.V(3545+12, 180, 1050)},
		{"F-1.6", ib.V(2800-12, 20, 1350), ib.V(2800+12, 115, 1450)},
		{"F-2.3", ib.V(3200-12, 3820, 1350), ib.V(3200+12, 3915, 1450)},
		{"F-4.1", ib.V(6220, 1188, 1450), ib.V(6315, 1212, 1550)},
		{"F-4.2", ib.V(5820, 1988, 1450), ib.V(5915, 2012, 1550)},
		{"LI-1.1", ib.V(800-17.5, 90-17.5, 2990), ib.V(800+17.5, 90+17.5, 3190)},
		{"RB-2.1", ib.V(9000-13.86, 5940, 2400-12), ib.V(9000+13.86, 6210, 2400+12)},
		{"LI-6.3", ib.V(900-17.5, 9800-17.5, 90), ib.V(900+17.5, 9800+17.5, 190)},
		{"CP-6", ib.V(3100, 9100, 88), ib.V(3300, 9300, 200)},
		{"CP-7", ib.V(4685, 1875, 2784), ib.V(4935, 2125, 2800)},
		{"FS-8.2", ib.V(2000-40, 14000, 1456-9), ib.V(2000+40, 14080, 1456+9)},
		{"FB-9.2", ib.V(13892, 2492, 34), ib.V(13908, 2592, 370)},
		{"CF-01-TY", ib.V(8092, 1250, -82), ib.V(9508, 2750, -66)},
		{"PB-01-H", ib.V(800+380, 1040, 394), ib.V(800+1120, 1446, 406)},
	} {
		got := all[c.mark]
		if len(got) == 0 {
			t.Errorf("%s is not there", c.mark)
			continue
		}
		box := got[0].box
		for _, o := range got {
			if o.box != (spfcheck.Box{}) {
				box = o.box
			}
		}
		have := [6]float64{box.Min[0], box.Min[1], box.Min[2], box.Max[0], box.Max[1], box.Max[2]}
		for k, want := range [6]float64{c.lo.X, c.lo.Y, c.lo.Z, c.hi.X, c.hi.Y, c.hi.Z} {
			if math.Abs(have[k]-want) > 0.5 { // round bodies are sampled, some are modelled in 16 sides
				t.Errorf("%s: box %v to %v, meant %v to %v", c.mark, box.Min, box.Max, c.lo, c.hi)
				break
			}
		}
	}
}

func TestListsNameWhatIsThere(t *testing.T) {
	all := allTagged(t)
	for _, f := range append(Faults, Traps...) {
		marks := f.Items
		if f.Host != "" {
			marks = append([]string{f.Host}, marks...)
		}
		for _, m := range marks {
			if len(all[m]) == 0 {
				t.Errorf("%s: no element has the mark %s", f.Rule, m)
			}
		}
		if f.Bars != "" {
			found := false
			for m := range all {
				found = found || strings.HasPrefix(m, f.Bars)
			}
			if !found {
				t.Errorf("%s: no bar has the mark %s", f.Rule, f.Bars)
			}
		}
		if f.Why == "" {
			t.Errorf("%s %v: nothing says what happened", f.Rule, f.Items)
		}
	}
}

// A fault misses its limit, and a trap keeps it, by 4 mm or more.
func TestNothingIsNearItsLimit(t *testing.T) {
	for _, f := range Faults {
		if f.Limit != 0 && f.Rule != "size-mismatch" && f.Measured > f.Limit-4 {
			t.Errorf("%s %v: %v is too near the limit of %v", f.Rule, f.Items, f.Measured, f.Limit)
		}
	}
	for _, f := range Faults {
		if f.Most != 0 && f.Measured < f.Most+4 {
			t.Errorf("%s %v: %v is too near the limit of %v", f.Rule, f.Items, f.Measured, f.Most)
		}
	}
	for _, f := range Traps {
		if f.Limit > 5 && f.Measured < f.Limit+4 {
			t.Errorf("%s %v: %v is too near the limit of %v", f.Rule, f.Items, f.Measured, f.Limit)
		}
	}
}

// Marks tell items apart, but for the one that was pasted in twice and for
// assemblies that have the mark of what they hold.
func TestMarksAreUnique(t *testing.T) {
	for m, all := range allTagged(t) {
		n := 0
		for _, o := range all {
			if o.class != "IFCELEMENTASSEMBLY" {
				n++
			}
		}
		if n > 1 && m != "F-2.3" {
			t.Errorf("%d elements have the mark %s", n, m)
		}
	}
}

func TestTextsArePlain(t *testing.T) {
	number := regexp.MustCompile(`\d\.\d{4,}`)
	for _, f := range Files() {
		for _, i := range parse(t, f).Insts {
			if len(i.Args) > 7 && i.Args[2].Kind == spfcheck.Text && number.MatchString(i.Args[2].Text) {
				t.Errorf("%s: name %q", f.Name, i.Args[2].Text)
			}
		}
	}
}
