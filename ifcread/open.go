package ifcread

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"strings"
)

// Open reads an .ifc or .ifczip file; which of the two it is, its first bytes
// tell, not its ending. The error is non-nil only when nothing can be used.
func Open(name string, o Options) (*File, error) {
	data, err := readFile(name, o.maxSize())
	if err != nil {
		return nil, err
	}
	if !bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		return Parse(name, data, o)
	}
	text, err := unzip(name, data, o.maxSize())
	if err != nil {
		return nil, err
	}
	f, err := Parse(name, text, o)
	if err == nil {
		f.packed = data
	}
	return f, err
}

// readFile reads a whole regular file.
func readFile(name string, most int64) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	switch {
	case info.IsDir():
		return nil, fmt.Errorf("%s: is a folder, not a model", name)
	case info.Size() > most:
		return nil, fmt.Errorf("%s: %d bytes are more than the %d that are read; split the model", name, info.Size(), most)
	}
	data, err := load(f, info.Size())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return data, nil
}

// maxRatio is by how much an archive entry may grow when it is unpacked; IFC
// text is known to shrink to a fifteenth.
const maxRatio = 200

// unzip takes the one model out of an archive.
func unzip(name string, data []byte, most int64) ([]byte, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var model *zip.File
	for _, e := range z.File {
		ext := strings.ToLower(path.Ext(strings.ReplaceAll(e.Name, `\`, "/")))
		if ext != ".ifc" || strings.HasPrefix(path.Base(e.Name), ".") {
			continue
		}
		if model != nil {
			return nil, fmt.Errorf("%s: holds several models, %q and %q; unpack it and name the one to read", name, model.Name, e.Name)
		}
		model = e
	}
	if model == nil {
		return nil, fmt.Errorf("%s: holds no .ifc file", name)
	}
	limit := min(most, max(1<<20, maxRatio*int64(len(data))))
	if model.UncompressedSize64 > uint64(limit) {
		return nil, fmt.Errorf("%s: %q unpacks to %d bytes, more than the %d that are allowed", name, model.Name, model.UncompressedSize64, limit)
	}
	r, err := model.Open()
	if err != nil {
		return nil, fmt.Errorf("%s: %q: %w", name, model.Name, err)
	}
	defer r.Close()
	text, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err != nil && !(errors.Is(err, io.ErrUnexpectedEOF) && len(text) > 0) {
		return nil, fmt.Errorf("%s: %q: %w", name, model.Name, err)
	}
	if int64(len(text)) > limit {
		return nil, fmt.Errorf("%s: %q unpacks to more than the %d bytes that are allowed", name, model.Name, limit)
	}
	return text, nil
}
