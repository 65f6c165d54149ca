package rewrite

import (
	"archive/zip"
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"embedcheck/ifcread"
	"embedcheck/internal/ifcbuild/ifcxml"
)

// File is a model with its name.
type File struct {
	Name string
	Data []byte
}

// Each makes a change of files out of one of texts.
func Each(change ...func(*Text) error) func([]File) ([]File, error) {
	return func(files []File) ([]File, error) {
		var out []File
		for _, f := range files {
			t, err := Parse(f.Data)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", f.Name, err)
			}
			for _, c := range change {
				if err := c(t); err != nil {
					return nil, fmt.Errorf("%s: %w", f.Name, err)
				}
			}
			out = append(out, File{f.Name, t.Bytes()})
		}
		return out, nil
	}
}

// SplitFiles splits each file as Text.Split does; what none of the parts needs,
// such as a file without bars, is left out.
func SplitFiles(files []File) ([]File, error) {
	var out []File
	for _, f := range files {
		t, err := Parse(f.Data)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		for i, part := range t.Split() {
			name := strings.TrimSuffix(f.Name, filepath.Ext(f.Name))
			out = append(out, File{name + "-" + PartNames[i] + ".ifc", part.Bytes()})
		}
	}
	return out, nil
}

// AsXML writes each file as XML.
func AsXML(form ifcxml.Form) func([]File) ([]File, error) {
	return func(files []File) ([]File, error) {
		var out []File
		for _, f := range files {
			read, err := ifcread.Parse(f.Name, f.Data, ifcread.Options{})
			if err != nil {
				return nil, err
			}
			out = append(out, File{strings.TrimSuffix(f.Name, filepath.Ext(f.Name)) + ".ifcXML", ifcxml.Write(read, form)})
		}
		return out, nil
	}
}

// Zipped packs each file.
func Zipped(files []File) ([]File, error) {
	var out []File
	for _, f := range files {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		w, err := z.Create(f.Name)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.Data); err != nil {
			return nil, err
		}
		if err := z.Close(); err != nil {
			return nil, err
		}
		out = append(out, File{strings.TrimSuffix(f.Name, filepath.Ext(f.Name)) + ".ifczip", b.Bytes()})
	}
	return out, nil
}
