package screen

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// tree makes empty files in a folder of its own, which becomes the working folder.
func tree(t *testing.T, names ...string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for _, n := range names {
		if err := os.MkdirAll(filepath.Dir(n), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(n, []byte(n), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

func TestFind(t *testing.T) {
	tree(t, "p/WP-10.ifc", "p/WP-2.ifc", "p/notes.txt", "p/.hidden.ifc", "p/.git/x.ifc", "p/level 1/WP-2.ifc", "p/B.IFCZIP", "q/[1].ifc", "q/1.ifc")
	for _, c := range []struct {
		name string
		args []string
		want []string // path > folder of results
	}{
		{"a folder and what is below it", []string{"p"}, []string{"p/B.IFCZIP>B.IFCZIP", "p/WP-2.ifc>WP-2.ifc", "p/WP-10.ifc>WP-10.ifc", "p/level 1/WP-2.ifc>level 1/WP-2.ifc"}},
		{"a pattern", []string{"p/WP*.ifc"}, []string{"p/WP-2.ifc>WP-2.ifc", "p/WP-10.ifc>WP-10.ifc"}},
		{"a file with the characters of a pattern", []string{"q/[1].ifc"}, []string{"q/[1].ifc>[1].ifc"}},
		{"one file named twice", []string{"p/WP-2.ifc", "./p/WP-2.ifc"}, []string{"p/WP-2.ifc>WP-2.ifc"}},
		{"the working folder", []string{"."}, []string{"p/B.IFCZIP>p/B.IFCZIP", "p/WP-2.ifc>p/WP-2.ifc", "p/WP-10.ifc>p/WP-10.ifc",
			"p/level 1/WP-2.ifc>p/level 1/WP-2.ifc", "q/1.ifc>q/1.ifc", "q/[1].ifc>q/[1].ifc"}},
	} {
		found, err := Find(c.args)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		var got []string
		for _, f := range found {
			got = append(got, f.Path+">"+f.Folder)
			if f.Size == 0 {
				t.Errorf("%s: %s has no size", c.name, f.Path)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestArgumentsThatNameNothing(t *testing.T) {
	tree(t, "p/a.txt", "p/WP.ifc", "q/wp.IFC", "r/screen.csv")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"none.ifc"}, "none.ifc"},
		{[]string{"p/*.step"}, "matches no file"},
		{[]string{"p/[.ifc"}, "syntax error in pattern"},
		{[]string{"p/WP.ifc", "q/wp.IFC"}, "the results of p/WP.ifc and q/wp.IFC would go to one folder"},
		{[]string{"r/screen.csv"}, "where the tables go"},
	} {
		if _, err := Find(c.args); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.args, err, c.want)
		}
	}
	if err := os.Remove("p/WP.ifc"); err != nil {
		t.Fatal(err)
	}
	if _, err := Find([]string{"p"}); err == nil || !strings.Contains(err.Error(), "no model is in this folder") {
		t.Errorf("an empty folder: %v", err)
	}
}

func TestLinksAreNotFollowedInACircle(t *testing.T) {
	tree(t, "p/a.ifc")
	if err := os.Symlink("..", "p/up"); err != nil {
		t.Skip("no links here: ", err)
	}
	if err := os.Symlink("nowhere", "p/b.ifc"); err != nil {
		t.Fatal(err)
	}
	found, err := Find([]string{"p"})
	if err != nil || len(found) != 2 || found[1].Path != "p/b.ifc" {
		t.Errorf("%v %v", found, err)
	}
}
