package ruleset

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
	"unicode/utf8"

	"github.com/tidwall/gjson"

	"embedcheck/internal/finding"
	"embedcheck/rules"
)

// maxSize is the size in bytes from which on a file is no rule file.
const maxSize = 4 << 20

// maxErrors is how many errors are told at once.
const maxErrors = 20

// Read reads the rule file at path.
func Read(path string) (*rules.Set, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxSize+1))
	if err != nil {
		return nil, err
	}
	return Parse(path, data)
}

// Parse reads a rule file. The error names all mistakes in it, up to twenty, as
// joined values of type *Error.
func Parse(name string, data []byte) (*rules.Set, error) {
	sum := sha256.Sum256(data)
	r := &reader{file: name}
	text := bytes.TrimPrefix(data, []byte("\ufeff"))
	if err := r.wellFormed(text); err != nil {
		return nil, err
	}
	r.text = string(text)
	r.set = &rules.Set{Name: filepath.Base(name), SHA256: hex.EncodeToString(sum[:]), FailOn: rules.Builtin().FailOn}
	r.whole(gjson.Parse(r.text))
	if len(r.errs) > 0 {
		return nil, errors.Join(r.errs...)
	}
	return r.set, nil
}

// Error is one mistake in a rule file.
type Error struct {
	File string
	Line int    // 1-based
	Key  string // "" when it is about no key
	Text string // what is wrong and what to do
}

func (e *Error) Error() string {
	if e.Key == "" {
		return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.Text)
	}
	return fmt.Sprintf("%s:%d: key %q: %s", e.File, e.Line, e.Key, e.Text)
}

// wellFormed checks that the text is one JSON object, so that what comes behind
// can rely on it.
func (r *reader) wellFormed(text []byte) error {
	fail := func(offset int, format string, args ...any) error {
		return &Error{File: r.file, Line: 1 + bytes.Count(text[:offset], []byte("\n")), Text: fmt.Sprintf(format, args...)}
	}
	if len(text) > maxSize {
		return fail(0, "larger than %d MB: this is no rule file", maxSize>>20)
	}
	if i := invalidUTF8(text); i >= 0 {
		return fail(i, "not UTF-8 text: save the file as UTF-8")
	}
	var raw json.RawMessage
	err := json.Unmarshal(text, &raw)
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &syntax):
		return fail(min(int(syntax.Offset), len(text)), "not JSON: %s", syntax)
	case err != nil:
		return fail(0, "not JSON: %s", err)
	}
	return nil
}

func invalidUTF8(text []byte) int {
	if utf8.Valid(text) {
		return -1
	}
	for i := 0; i < len(text); {
		c, n := utf8.DecodeRune(text[i:])
		if c == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// whole reads the whole file.
func (r *reader) whole(root gjson.Result) {
	r.object(value{Result: root}, fields{
		"$schema": func(v value) { r.string(v) },
		"name": func(v value) {
			if s, ok := r.string(v); ok {
				if s = finding.Plain(s); s == "" {
					r.fail(v, "want a name, found an empty text")
				}
				r.set.Name = s
			}
		},
		"fail_on": func(v value) {
			if p, ok := r.priority(v); ok {
				r.set.FailOn = p
			}
		},
		"rules":      func(v value) { r.set.Rules = r.changes(v, nil) },
		"tolerances": func(v value) { r.set.Tolerances = r.tolerances(v) },
		"for": func(v value) {
			r.list(v, func(v value) { r.forItems(v) })
		},
		"recognise": func(v value) {
			r.list(v, func(v value) { r.override(v) })
		},
	})
}
