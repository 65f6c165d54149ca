package ruleset

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/rules"
)

// Each set is a right rule file, states a source with its confidence for each
// limit, and words nothing that was not read as a requirement.
func TestNamedSets(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("sets", "*.json"))
	if err != nil || len(files) != len(NamedSets) {
		t.Fatalf("%d files for %d sets, %v", len(files), len(NamedSets), err)
	}
	for _, n := range NamedSets {
		set := n.Set()
		if set.Name != n.Name || set.SHA256 == "" {
			t.Errorf("%s: is called %q, hash %q", n.Name, set.Name, set.SHA256)
		}
		if !strings.Contains(strings.Join(n.Notes, " "), "table by item type is needed") {
			t.Errorf("%s: does not say what the product's data are needed for", n.Name)
		}
		if len(set.Rules) > 0 {
			t.Errorf("%s: states limits for all kinds of items: lifting inserts are not in any of the codes", n.Name)
		}
		limits := 0
		for _, f := range set.For {
			for id, c := range f.Rules {
				limits++
				if c.Limit == nil || c.Source == nil || !confident(*c.Source) {
					t.Errorf("%s, %s: a limit and a source with its confidence wanted, got %v", n.Name, id, c.Source)
				}
			}
			for kind, tol := range f.Tolerances {
				limits++
				if !confident(tol.Source) {
					t.Errorf("%s, %s: source without confidence: %s", n.Name, kind, tol.Source)
				}
			}
		}
		if limits == 0 {
			t.Errorf("%s states nothing", n.Name)
		}
	}
}

func confident(source string) bool {
	for _, c := range []rules.Confidence{rules.Read, rules.Secondary, rules.Memory, rules.Practice} {
		if strings.HasSuffix(source, "("+c.String()+")") {
			return c < rules.Memory || !strings.Contains(source, "requires") && !strings.Contains(source, "shall")
		}
	}
	return false
}

// The figures of the sets, held against the text of the standards as far as it
// was read: ACI 318-19 17.9.2 and 17.6.4 in a secondary copy, EN 1992-4 7.2.1.8
// from memory, EN 1992-1-1 8.2(2) and AS 3850.2 Table 2.7 in a secondary copy.
func TestNamedSetFigures(t *testing.T) {
	for _, c := range []struct{ set, kind, rule, want string }{
		{"aci318-19", "bolt", "spacing", "6 diameters"},
		{"aci318-19", "stud", "spacing", "4 diameters"},
		{"aci318-19", "bolt", "edge-distance", "6 diameters"},
		{"aci318-19", "socket", "side-face", "2.5"},
		{"aci318-19", "lifter", "spacing", ""},
		{"aci318-19", "stud", "edge-distance", ""},
		{"en1992-4", "bolt", "side-face", "2"},
		{"en1992-4", "bolt", "reinforcement-clearance", "20 mm, 1 bar diameter"},
		{"en1992-4", "bolt", "edge-distance", ""},
		{"en1992-4", "bolt", "spacing", ""},
		{"as-practice", "lifter", "edge-distance", ""},
		{"as-practice", "plate", "back-cover", "20 mm"},
	} {
		got := ""
		for _, f := range FindNamed(c.set).Set().For {
			if ch, ok := f.Rules[c.rule]; ok && strings.Contains(strings.Join(f.Items.Kinds, " ")+" ", c.kind+" ") {
				got = ch.Limit.String()
			}
		}
		if got != c.want {
			t.Errorf("%s, %s of %s: %q, want %q", c.set, c.rule, c.kind, got, c.want)
		}
	}
	for _, f := range FindNamed("as-practice").Set().For {
		if tol, ok := f.Tolerances["position"]; ok && f.Items.Kinds[0] == "lifter" && tol.Plus != 20 {
			t.Errorf("as-practice: position of lifters %+v", tol)
		}
	}
}

func TestOpen(t *testing.T) {
	set, err := Open("en1992-4")
	if err != nil || set.Name != "en1992-4" {
		t.Errorf("got %+v, %v", set, err)
	}
	for name, want := range map[string]string{
		"en1992_4":    `"en1992_4" is neither a rule file nor a built-in set; did you mean "en1992-4"?`,
		"aci318":      `"aci318" is neither a rule file nor a built-in set; did you mean "aci318-19"?`,
		"xyzzy":       `"xyzzy" is neither a rule file nor a built-in set; known are aci318-19, as-practice, en1992-4`,
		"./none.json": "open ./none.json: no such file or directory",
	} {
		if _, err := Open(name); err == nil || err.Error() != want {
			t.Errorf("%s: got %v, want %s", name, err, want)
		}
	}
	dir := t.TempDir()
	t.Chdir(dir)
	if err := os.WriteFile("aci318-19", []byte(`{"name": "own"}`), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"aci318-19": "aci318-19", "./aci318-19": "own"} {
		if set, err := Open(name); err != nil || set.Name != want {
			t.Errorf("%s: got %+v, %v", name, set, err)
		}
	}
}
