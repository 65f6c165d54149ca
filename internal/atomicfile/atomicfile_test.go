package atomicfile

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var errFault = errors.New("fault")

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

// folder makes a folder with files in it.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, content := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// holds compares all that is in a folder, litter included.
func holds(t *testing.T, dir string, want map[string]string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		got[e.Name()] = string(data)
	}
	for name := range want {
		if got[name] != want[name] {
			t.Errorf("%s holds %q, want %q", name, got[name], want[name])
		}
	}
	for name := range got {
		if _, ok := want[name]; !ok {
			t.Errorf("%s was left behind", name)
		}
	}
}

func TestWriteAll(t *testing.T) {
	dir := folder(t, map[string]string{"a": "old a", "other": "x"})
	err := WriteAll(
		Output{filepath.Join(dir, "a"), text("new a")},
		Output{filepath.Join(dir, "b"), text("new b")},
	)
	if err != nil {
		t.Fatal(err)
	}
	holds(t, dir, map[string]string{"a": "new a", "b": "new b", "other": "x"})
}

func TestAFailingWriterLeavesEverythingAsItWas(t *testing.T) {
	before := map[string]string{"a": "old a", "b": "old b"}
	dir := folder(t, before)
	failing := func(w io.Writer) error {
		if _, err := io.WriteString(w, strings.Repeat("half ", 50000)); err != nil {
			return err
		}
		return errFault
	}
	err := WriteAll(Output{filepath.Join(dir, "a"), text("new a")}, Output{filepath.Join(dir, "b"), failing})
	if !errors.Is(err, errFault) || !strings.Contains(err.Error(), filepath.Join(dir, "b")) {
		t.Errorf("got %v", err)
	}
	holds(t, dir, before)
}

func TestAPanickingWriterLeavesNothingBehind(t *testing.T) {
	before := map[string]string{"a": "old a"}
	dir := folder(t, before)
	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic was swallowed")
			}
		}()
		Write(filepath.Join(dir, "a"), func(io.Writer) error { panic("no") })
	}()
	holds(t, dir, before)
}

// Each step on the way fails once, for each of three files, one of them new.
func TestEveryStepMayFail(t *testing.T) {
	before := map[string]string{"a": "old a", "c": "old c"}
	after := map[string]string{"a": "new a", "b": "new b", "c": "new c"}
	for _, step := range []string{"sync", "chmod", "rename", "link and rename"} {
		for n := 1; n <= 3; n++ {
			dir := folder(t, before)
			sys, calls := faulty(step, n)
			var outputs []Output
			for _, name := range []string{"a", "b", "c"} {
				outputs = append(outputs, Output{filepath.Join(dir, name), text("new " + name)})
			}
			err := writeAll(sys, outputs)
			if *calls < n { // the step is not taken as often
				if err != nil {
					t.Errorf("%s %d: %v", step, n, err)
				}
				holds(t, dir, after)
				continue
			}
			if !errors.Is(err, errFault) {
				t.Errorf("%s %d: got %v", step, n, err)
			}
			holds(t, dir, before)
		}
	}
}

// faulty is the disk with the n-th call of a step failing.
func faulty(step string, n int) (system, *int) {
	sys, calls := disk, new(int)
	fault := func() bool { *calls++; return *calls == n }
	switch step {
	case "sync":
		sys.sync = func(f *os.File, m os.FileMode) error {
			if fault() {
				return errFault
			}
			return disk.sync(f, m)
		}
	case "chmod":
		sys.chmod = func(f *os.File, m os.FileMode) error {
			if fault() {
				return errFault
			}
			return disk.chmod(f, m)
		}
	case "link and rename":
		sys.link = func(string, string) error { return errors.ErrUnsupported }
		fallthrough
	case "rename":
		sys.rename = func(a, b string) error {
			if fault() {
				return errFault
			}
			return disk.rename(a, b)
		}
	}
	return sys, calls
}

func TestWithoutHardLinks(t *testing.T) {
	dir := folder(t, map[string]string{"a": "old a", "b": "old b"})
	sys := disk
	sys.link = func(string, string) error { return errors.ErrUnsupported }
	err := writeAll(sys, []Output{{filepath.Join(dir, "a"), text("new a")}, {filepath.Join(dir, "b"), text("new b")}})
	if err != nil {
		t.Fatal(err)
	}
	holds(t, dir, map[string]string{"a": "new a", "b": "new b"})
}

func TestAFolderThatCannotBeSyncedIsNoError(t *testing.T) {
	dir := folder(t, nil)
	sys := disk
	sys.syncDir = func(string, string) error { return errFault }
	if err := writeAll(sys, []Output{{filepath.Join(dir, "a"), text("a")}}); err != nil {
		t.Error(err)
	}
	holds(t, dir, map[string]string{"a": "a"})
}

func TestWhatCannotBeWrittenOver(t *testing.T) {
	dir := folder(t, map[string]string{"file": "x", "good": "old"})
	if err := os.MkdirAll(filepath.Join(dir, "sub"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, path, want string }{
		{"folder", "sub", "it is a folder"},
		{"no folder there", "none/a", "no such file"},
		{"below a file", "file/a", "not a directory"},
		{"twice", "good", "two outputs go to the same file"},
		{"twice, spelled otherwise", "sub/../good", "two outputs go to the same file"},
	} {
		err := WriteAll(
			Output{filepath.Join(dir, "good"), text("new")},
			Output{dir + "/" + c.path, text("x")},
		)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), c.path) {
			t.Errorf("%s: got %v, want an error with %q and the path", c.name, err, c.want)
		}
		if data, _ := os.ReadFile(filepath.Join(dir, "good")); string(data) != "old" {
			t.Errorf("%s: the other file became %q", c.name, data)
		}
	}
	names := []string{}
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if !slices.Equal(names, []string{"file", "good", "sub"}) {
		t.Errorf("the folder holds %q", names)
	}
}

func TestReadOnlyFolder(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("root may write into every folder")
	}
	dir := folder(t, map[string]string{"a": "old"})
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	if err := Write(filepath.Join(dir, "a"), text("new")); !errors.Is(err, os.ErrPermission) {
		t.Errorf("got %v", err)
	}
	holds(t, dir, map[string]string{"a": "old"})
}

func TestPermissionsAndLinksStay(t *testing.T) {
	dir := folder(t, map[string]string{"real": "old"})
	real, link := filepath.Join(dir, "real"), filepath.Join(dir, "link")
	if err := os.Chmod(real, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("real", link); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	if err := Write(link, text("new")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is gone: %v, %v", info, err)
	}
	info, err = os.Stat(real)
	if err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions are %v, %v", info.Mode(), err)
	}
	holds(t, dir, map[string]string{"real": "new", "link": "new"})
}

func TestANewFileIsReadableAsTheUmaskSays(t *testing.T) {
	dir := folder(t, nil)
	a, b := filepath.Join(dir, "a"), filepath.Join(dir, "b")
	if err := Write(a, text("")); err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(b)
	if err != nil {
		t.Fatal(err)
	}
	f.Close()
	x, _ := os.Stat(a)
	y, _ := os.Stat(b)
	if x.Mode() != y.Mode() {
		t.Errorf("mode %v, want %v as os.Create gives", x.Mode(), y.Mode())
	}
}

func TestLeftoversOfADeadProcessAreNoObstacle(t *testing.T) {
	dir := folder(t, nil)
	s := staged{path: filepath.Join(dir, "a")}
	if err := os.WriteFile(s.beside(0), []byte("litter"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Write(s.path, text("new")); err != nil {
		t.Fatal(err)
	}
	if data, _ := os.ReadFile(s.path); string(data) != "new" {
		t.Errorf("got %q", data)
	}
}
