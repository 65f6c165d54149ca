package ifcread

import (
	"archive/zip"
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
)

// An archive's entry may be maxRatio times as large as the archive, and in any
// case as large as smallEntry: IFC text is known to shrink to a fifteenth, and
// deflate makes at most a thousand bytes out of one.
const (
	maxRatio   = 200
	smallEntry = 64 << 20
)

// unzip takes the one model out of an archive.
func unzip(name string, data []byte, o Options) ([]byte, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) { // nothing is written to disk
		return nil, fmt.Errorf("%s: %w; pack the model again", name, err)
	}
	entry, err := modelEntry(z)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	text, err := unpack(entry, min(o.maxSize(), max(smallEntry, maxRatio*int64(len(data)))))
	if err != nil {
		return nil, fmt.Errorf("%s: %s: %w", name, entry.Name, err)
	}
	return text, nil
}

// modelEntry is the one model in an archive, in any folder of it: the only file
// that ends in .ifc or .ifcxml, or else the only file there is, whatever its
// ending. What it is, its first bytes tell.
func modelEntry(z *zip.Reader) (*zip.File, error) {
	var models, others []*zip.File
	for _, e := range z.File {
		full := strings.ReplaceAll(e.Name, `\`, "/")
		base := strings.ToLower(path.Base(full))
		switch {
		case strings.HasSuffix(full, "/"), strings.HasPrefix(base, "."): // folders, and what some systems add
		case strings.HasSuffix(base, ".ifc"), strings.HasSuffix(base, ".ifcxml"):
			models = append(models, e)
		default:
			others = append(others, e)
		}
	}
	switch {
	case len(models) == 1:
		return models[0], nil
	case len(models) > 1:
		return nil, fmt.Errorf("it holds several models, %s and %s; unpack it and name the one to read", models[0].Name, models[1].Name)
	case len(others) == 1:
		return others[0], nil
	}
	return nil, fmt.Errorf("%w: there is no .ifc or .ifcxml file in it", ErrFormat)
}

func unpack(e *zip.File, limit int64) ([]byte, error) {
	if e.UncompressedSize64 > uint64(limit) {
		return nil, fmt.Errorf("it unpacks to %d bytes, more than the %d that are allowed; unpack it by hand if it is a model", e.UncompressedSize64, limit)
	}
	r, err := e.Open()
	if err != nil {
		return nil, fmt.Errorf("%w; pack the model again", err)
	}
	defer r.Close()
	text := make([]byte, e.UncompressedSize64)
	if _, err := io.ReadFull(r, text); err != nil {
		return nil, fmt.Errorf("%w; pack the model again", err)
	}
	// At its end the reader compares the length and the checksum with those stated.
	if _, err := r.Read(make([]byte, 1)); err != io.EOF {
		return nil, fmt.Errorf("%w; pack the model again", cmp.Or(err, zip.ErrFormat))
	}
	return text, nil
}
