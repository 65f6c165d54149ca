package ifcread

import (
	"bytes"
	"fmt"
	"os"
)

var zipMagic = []byte("PK\x03\x04")

// Open reads an .ifc, .ifcxml or .ifczip file. Which of them it is, its first
// bytes tell, not its ending. The error is non-nil only when nothing can be used.
//
// The file is read into memory, not mapped: a mapped file that another program
// cuts short would end this one.
func Open(path string, o Options) (*File, error) {
	data, err := readFile(path, o)
	if err != nil {
		return nil, err
	}
	text := data
	if bytes.HasPrefix(data, zipMagic) {
		if text, err = unzip(path, data, o); err != nil {
			return nil, err
		}
	}
	return read(path, text, data, o)
}

// readFile reads a whole regular file. Others are refused: a pipe may never end.
func readFile(path string, o Options) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	switch {
	case info.IsDir():
		return nil, fmt.Errorf("%s: it is a folder; name the models in it", path)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s: it is not a regular file; save the model to one", path)
	case info.Size() > o.maxSize():
		return nil, tooLarge(path, info.Size(), o)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data := reserve(int(info.Size()))
	if err := load(f, data); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return data, nil
}
