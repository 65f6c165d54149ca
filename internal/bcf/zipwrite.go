package bcf

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"hash/crc32"
	"io"
)

// archiveWriter writes zip entries with sizes before the data and a fixed time:
// some readers take no data descriptors, and the same content has to give the
// same bytes.
type archiveWriter struct {
	zip   *zip.Writer
	flate *flate.Writer
	buf   bytes.Buffer
	names map[string]bool
}

func newArchiveWriter(w io.Writer) *archiveWriter {
	f, err := flate.NewWriter(nil, flate.DefaultCompression)
	if err != nil {
		panic(err) // the level is a constant
	}
	return &archiveWriter{zip: zip.NewWriter(w), flate: f, names: map[string]bool{}}
}

// firstDay is 1 January 1980 as MS-DOS has it, the earliest date that a zip
// entry can carry.
const firstDay = 1<<5 | 1

// add writes one entry, compressed where that makes it smaller.
func (a *archiveWriter) add(name string, data []byte) error {
	if !validName(name) {
		return fmt.Errorf("%q cannot be the name of a file in an archive", name)
	}
	if a.names[name] {
		return fmt.Errorf("%s: there are two files of this name", name)
	}
	a.names[name] = true
	a.buf.Reset()
	a.flate.Reset(&a.buf)
	if _, err := a.flate.Write(data); err != nil {
		return err
	}
	if err := a.flate.Close(); err != nil {
		return err
	}
	h := &zip.FileHeader{
		Name:               name,
		Method:             zip.Deflate,
		CRC32:              crc32.ChecksumIEEE(data),
		UncompressedSize64: uint64(len(data)),
		//lint:ignore SA1019 CreateRaw writes this field and not Modified
		ModifiedDate: firstDay,
	}
	body := a.buf.Bytes()
	if len(body) >= len(data) {
		h.Method, body = zip.Store, data
	}
	if !isASCII(name) {
		h.Flags |= 0x800 // the name is UTF-8
	}
	h.CompressedSize64 = uint64(len(body))
	w, err := a.zip.CreateRaw(h)
	if err != nil {
		return err
	}
	_, err = w.Write(body)
	return err
}

func (a *archiveWriter) close() error { return a.zip.Close() }

func isASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}
