package bcf

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
)

// File is a file of an archive. One that was read stays in the archive until
// its data is asked for.
type File struct {
	Name string // with forward slashes, relative to the folder it is listed for
	data []byte
	zip  *zip.File
}

// NewFile is a file with the given content.
func NewFile(name string, data []byte) File { return File{Name: name, data: data} }

// Size is the number of bytes of the content.
func (f *File) Size() int64 {
	if f.zip != nil {
		return int64(f.zip.UncompressedSize64)
	}
	return int64(len(f.data))
}

// Data is the content. The archive that the file was read from must still be
// open.
func (f *File) Data() ([]byte, error) {
	if f.zip == nil {
		return f.data, nil
	}
	return readEntry(f.zip, maxFileBytes)
}

// readEntry reads an entry of at most the given number of bytes, whatever its
// header says.
func readEntry(z *zip.File, most int64) ([]byte, error) {
	if z.UncompressedSize64 > uint64(most) {
		return nil, fmt.Errorf("%s: %w: larger than %d MiB", z.Name, ErrHostile, most>>20)
	}
	r, err := z.Open()
	if errors.Is(err, zip.ErrAlgorithm) {
		return nil, fmt.Errorf("%s: packed with method %d, which is not known here", z.Name, z.Method)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", z.Name, err)
	}
	defer r.Close()
	size := int64(z.UncompressedSize64)
	// What the header says is asked for piece by piece: it may be a lie.
	data, err := io.ReadAll(io.LimitReader(r, size+1))
	if err != nil {
		return nil, fmt.Errorf("%s: the archive is damaged: %w", z.Name, err)
	}
	if int64(len(data)) != size {
		return nil, fmt.Errorf("%s: %w: it unpacks to another size than it states", z.Name, ErrHostile)
	}
	return data, nil
}
