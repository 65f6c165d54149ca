package screen

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/report"
)

func output(path, text string) []atomicfile.Output {
	return []atomicfile.Output{{Path: path, Write: func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}}}
}

// kept is a store with the results of one file.
func kept(t *testing.T) (*Store, File, Key, report.Panel) {
	t.Helper()
	s := NewStore(t.TempDir())
	f := File{Path: "a.ifc", Folder: "level 1/a.ifc"}
	k := Key{Path: "a.ifc", Model: "1", Rules: "2", Program: "3", Decisions: "4", Options: "5"}
	p := report.Panel{File: "a.ifc", Kinds: map[string]int{"bolt": 2}, Size: [3]float64{1, 2, 3}, Rules: []report.PanelRule{{Rule: "edge-distance", Hold: 1}}}
	if err := s.Save(f, k, p, output(filepath.Join(s.Folder(f), "findings.json"), "x")); err != nil {
		t.Fatal(err)
	}
	return s, f, k, p
}

func TestWhatIsKeptHoldsOnlyForItsKey(t *testing.T) {
	s, f, k, p := kept(t)
	if got, ok := s.Load(f, k); !ok || !reflect.DeepEqual(got, p) {
		t.Errorf("%v %v", got, ok)
	}
	v := reflect.ValueOf(&k).Elem()
	for i := range v.NumField() {
		was := v.Field(i).String()
		v.Field(i).SetString("other")
		if _, ok := s.Load(f, k); ok {
			t.Errorf("taken although %s differs", v.Type().Field(i).Name)
		}
		v.Field(i).SetString(was)
	}
}

func TestWhatIsNotCompleteIsNotTaken(t *testing.T) {
	for name, spoil := range map[string]func(s *Store, f File) error{
		"no marker":        func(s *Store, f File) error { return os.Remove(filepath.Join(s.Folder(f), marker)) },
		"a marker cut off": func(s *Store, f File) error { return os.Truncate(filepath.Join(s.Folder(f), marker), 40) },
		"no findings":      func(s *Store, f File) error { return os.Remove(filepath.Join(s.Folder(f), "findings.json")) },
		"marker of no schema": func(s *Store, f File) error {
			return os.WriteFile(filepath.Join(s.Folder(f), marker), []byte("{}"), 0o600)
		},
		"dropped": func(s *Store, f File) error { return s.Drop(f) },
	} {
		s, f, k, _ := kept(t)
		if err := spoil(s, f); err != nil {
			t.Fatal(err)
		}
		if _, ok := s.Load(f, k); ok {
			t.Errorf("%s: taken", name)
		}
	}
	s, f, k, _ := kept(t)
	k.Program = ""
	if _, ok := s.Load(f, k); ok {
		t.Error("taken without knowing the program")
	}
}

func TestSavingSweepsWhatAKilledRunLeft(t *testing.T) {
	s, f, k, p := kept(t)
	dir := s.Folder(f)
	for _, n := range []string{".findings.json.123-0.tmp", ".issues.bcf.9-1.tmp.old"} {
		if err := os.WriteFile(filepath.Join(dir, n), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	own := filepath.Join(dir, ".notes.tmp")
	if err := os.WriteFile(own, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := s.Save(f, k, p, output(filepath.Join(dir, "findings.json"), "y")); err != nil {
		t.Fatal(err)
	}
	left, _ := filepath.Glob(filepath.Join(dir, ".*"))
	if len(left) != 1 || left[0] != own {
		t.Errorf("left: %q", left)
	}
}

func TestNothingIsWrittenOnceClosed(t *testing.T) {
	s, f, k, p := kept(t)
	s.Close()
	if err := s.Save(f, k, p, nil); !errors.Is(err, ErrClosed) {
		t.Errorf("%v", err)
	}
	if err := s.Drop(f); !errors.Is(err, ErrClosed) {
		t.Errorf("%v", err)
	}
	if _, ok := s.Load(f, k); !ok {
		t.Error("what was kept is gone")
	}
}

func TestAFailingWriterKeepsWhatWasThere(t *testing.T) {
	s, f, k, p := kept(t)
	full := errors.New("the disk is full")
	fails := []atomicfile.Output{{Path: filepath.Join(s.Folder(f), "findings.json"), Write: func(io.Writer) error { return full }}}
	if err := s.Save(f, k, p, fails); !errors.Is(err, full) {
		t.Errorf("%v", err)
	}
	if _, ok := s.Load(f, k); !ok {
		t.Error("what was kept is gone")
	}
}

func TestAnInterruptedCallIsTakenUpWhereItWasMade(t *testing.T) {
	t.Chdir(t.TempDir())
	if _, err := Interrupted("out"); !errors.Is(err, ErrNoCall) {
		t.Errorf("%v", err)
	}
	c := Call{Arguments: []string{"p", "=x"}, Flags: map[string]string{"bcf": "3.0"}}
	if err := c.Begin("out"); err != nil {
		t.Fatal(err)
	}
	got, err := Interrupted("out")
	if err != nil || !reflect.DeepEqual(*got, c) {
		t.Errorf("%v %v", got, err)
	}
	dir, _ := filepath.Abs("out")
	t.Chdir(t.TempDir())
	if _, err := Interrupted(dir); err == nil || !strings.Contains(err.Error(), "was started in") {
		t.Errorf("%v", err)
	}
	if err := os.WriteFile(filepath.Join(dir, callFile), []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Interrupted(dir); err == nil || !strings.Contains(err.Error(), "is no record of a run") {
		t.Errorf("%v", err)
	}
	if err := End(dir); err != nil {
		t.Error(err)
	}
}
