package ifcread

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
)

// ErrFormat is the kind of error for what is not an IFC file in clear text or XML.
var ErrFormat = errors.New("not an IFC file in clear text or XML")

// Header is what the header section says (FILE_NAME and FILE_SCHEMA), decoded.
type Header struct {
	Name         string // of the file, as its writer knew it
	TimeStamp    string // as written
	Author       string // the first one
	Organization string // the first one
	Preprocessor string // what wrote the file
	System       string // what the model comes from
	Schema       string // as written
}

var byteOrderMark = []byte("\xef\xbb\xbf")

// readHeader reads what is before the first data section and gives the place
// behind it.
func (f *File) readHeader() (int, error) {
	s := newScanner(f.data)
	s.blk = new(block)
	at, found := s.skip(len(f.data)-len(bytes.TrimPrefix(f.data, byteOrderMark))), false
	for at < len(f.data) && f.data[at] != '#' {
		word, end := headerWord(f.data, at)
		if word == "DATA" {
			break
		}
		args := f.list(-1)
		if i := s.skip(end); i < len(f.data) && f.data[i] == '(' {
			args = f.list(i)
		}
		switch word {
		case "FILE_NAME":
			f.header.fill(args)
		case "FILE_SCHEMA":
			f.header.Schema, found = schemaName(args), true
		case "ANCHOR", "REFERENCE": // other files' instances: ISO 10303-21, edition 3
			if k := bytes.Index(f.data[end:], []byte("ENDSEC")); k >= 0 {
				end += k
			}
		}
		at = s.skip(s.resume(end))
	}
	if !found { // behind a broken statement, perhaps
		k := bytes.Index(f.data[:at], []byte("FILE_SCHEMA("))
		if k < 0 {
			return 0, f.noHeader()
		}
		f.header.Schema = schemaName(f.list(k + len("FILE_SCHEMA")))
	}
	var ok bool
	if f.schema, ok = parseSchema(f.header.Schema); !ok {
		return 0, fmt.Errorf("%s: its schema is %q; only IFC2X3, IFC4 and IFC4X3 are read, export the model in one of them", f.name, f.header.Schema)
	}
	return at, nil
}

// headerWord is the word that a statement of the header begins with, and its end.
func headerWord(b []byte, at int) (string, int) {
	end := at
	for end < len(b) && (isWord(b[end]) || b[end] == '-') {
		end++
	}
	return strings.ToUpper(string(b[at:min(end, at+32)])), end
}

func (h *Header) fill(args params) {
	for _, to := range [...]*string{&h.Name, &h.TimeStamp, &h.Author, &h.Organization, &h.Preprocessor, &h.System} {
		if !args.next() {
			return
		}
		*to, _ = args.value.Str()
		for v := range args.value.List {
			*to, _ = v.Str()
			break
		}
	}
}

// schemaName is the first schema of FILE_SCHEMA that is read, or just the first.
func schemaName(args params) string {
	if !args.next() {
		return ""
	}
	first, _ := args.value.Str()
	for v := range args.value.List {
		name, _ := v.Str()
		if _, ok := parseSchema(name); ok {
			return name
		}
		if first == "" {
			first = name
		}
	}
	return first
}

// noHeader says what the file is instead.
func (f *File) noHeader() error {
	b := f.data
	what := "there is no FILE_SCHEMA in its header; export the model again"
	switch {
	case len(bytes.TrimSpace(b)) == 0:
		what = "it is empty; export the model again"
	case isUTF16(b):
		what = "it is in UTF-16; save it as plain text"
	case bytes.HasPrefix(b, zipMagic):
		what = "it is an archive in an archive; unpack it"
	}
	return fmt.Errorf("%s: %w: %s", f.name, ErrFormat, what)
}
