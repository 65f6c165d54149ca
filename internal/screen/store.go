package screen

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/report"
)

// Key is all that the results of a file depend on.
type Key struct {
	Path      string `json:"path"`
	Model     string `json:"model_sha256"`
	Rules     string `json:"rules_sha256"`
	Program   string `json:"program_sha256"`
	Decisions string `json:"decisions"`
	Options   string `json:"options"`
}

// marker is the file that says that the results in its folder are complete, and
// what they are the results of. It is written last and removed first.
const marker = "screened.json"

type marked struct {
	Schema int          `json:"schema"`
	Key    Key          `json:"key"`
	Files  []string     `json:"files"`
	Panel  report.Panel `json:"panel"`
}

const schema = 1

// ErrClosed is what Save gives once the store is closed.
var ErrClosed = errors.New("the run was stopped")

// Store keeps the results of each file in a folder of its own. Calls may come
// from several goroutines.
type Store struct {
	dir     string
	writing sync.RWMutex
	closed  bool
}

// NewStore keeps results below dir.
func NewStore(dir string) *Store { return &Store{dir: dir} }

// Folder is where the results of a file are.
func (s *Store) Folder(f File) string { return filepath.Join(s.dir, filepath.FromSlash(f.Folder)) }

// Load is what is kept of a file, when it still is what a check would give.
func (s *Store) Load(f File, key Key) (report.Panel, bool) {
	dir := s.Folder(f)
	data, err := os.ReadFile(filepath.Join(dir, marker))
	if err != nil {
		return report.Panel{}, false
	}
	var m marked
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if d.Decode(&m) != nil || m.Schema != schema || m.Key != key || key.Program == "" {
		return report.Panel{}, false
	}
	for _, name := range m.Files {
		if info, err := os.Stat(filepath.Join(dir, filepath.Base(name))); err != nil || !info.Mode().IsRegular() {
			return report.Panel{}, false
		}
	}
	return m.Panel, true
}

// Save writes the results of a file. A process that is killed meanwhile leaves
// whole files or none, and a folder without marker, which Load does not take.
func (s *Store) Save(f File, key Key, p report.Panel, outputs []atomicfile.Output) error {
	dir := s.Folder(f)
	m := marked{Schema: schema, Key: key, Panel: p}
	for i, o := range outputs {
		data, err := rendered(o)
		if err != nil {
			return fmt.Errorf("%s: %w", o.Path, err)
		}
		outputs[i].Write = data
		m.Files = append(m.Files, filepath.Base(o.Path))
	}
	return s.write(func() error {
		if err := os.MkdirAll(dir, 0o777); err != nil {
			return err
		}
		if err := s.clear(dir); err != nil {
			return err
		}
		if err := atomicfile.WriteAll(outputs...); err != nil {
			return err
		}
		return atomicfile.Write(filepath.Join(dir, marker), asJSON(m))
	})
}

// Drop says that what is kept of a file is none of its results any more.
func (s *Store) Drop(f File) error {
	return s.write(func() error { return s.clear(s.Folder(f)) })
}

// write runs what writes, unless the store is closed; Close waits for it.
func (s *Store) write(do func() error) error {
	s.writing.RLock()
	defer s.writing.RUnlock()
	if s.closed {
		return ErrClosed
	}
	return do()
}

// clear removes the marker, and what a process that was killed left behind.
func (s *Store) clear(dir string) error {
	if err := os.Remove(filepath.Join(dir, marker)); err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	return atomicfile.Sweep(dir)
}

// Close ends all writing: when it returns no file is on its way and none will be.
func (s *Store) Close() {
	s.writing.Lock()
	defer s.writing.Unlock()
	s.closed = true
}

// rendered is the content of an output, made now: writing it later takes little
// time, however long it took to make.
func rendered(o atomicfile.Output) (func(io.Writer) error, error) {
	var b bytes.Buffer
	if err := o.Write(&b); err != nil {
		return nil, err
	}
	return func(w io.Writer) error {
		_, err := w.Write(b.Bytes())
		return err
	}, nil
}

func asJSON(v any) func(io.Writer) error {
	return func(w io.Writer) error {
		e := json.NewEncoder(w)
		e.SetIndent("", " ")
		return e.Encode(v)
	}
}

// HashFile is the SHA-256 of a file in hexadecimal digits.
func HashFile(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// HasMarker reports whether there is anything to compare with for a file.
func (s *Store) HasMarker(f File) bool {
	_, err := os.Stat(filepath.Join(s.Folder(f), marker))
	return err == nil
}
