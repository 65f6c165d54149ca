package atomicfile

import (
	"path/filepath"
	"testing"
)

// What a killed process left is removed; an earlier file that it had put aside
// comes back when its place is empty.
func TestSweepPutsBackWhatWasPutAside(t *testing.T) {
	dir := folder(t, map[string]string{
		"b": "new b", ".a.12-0.tmp": "half", ".a.12-0.tmp.old": "old a", ".b.12-1.tmp.old": "old b", ".c.tmp": "of another program",
	})
	if err := Sweep(dir); err != nil {
		t.Fatal(err)
	}
	holds(t, dir, map[string]string{"a": "old a", "b": "new b", ".c.tmp": "of another program"})
}

func TestWriteFolderMakesTheFoldersOfItsFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "out")
	if err := WriteFolder(dir, Output{filepath.Join(dir, "a"), text("a")}, Output{filepath.Join(dir, "below", "b"), text("b")}); err != nil {
		t.Fatal(err)
	}
	holds(t, filepath.Join(dir, "below"), map[string]string{"b": "b"})
	if err := WriteFolder(filepath.Join(dir, "a"), Output{filepath.Join(dir, "a", "c"), text("c")}); err == nil {
		t.Error("a file was taken for a folder")
	}
	holds(t, filepath.Join(dir, "below"), map[string]string{"b": "b"})
}
