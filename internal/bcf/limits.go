package bcf

import (
	"archive/zip"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// ErrHostile is wrapped by errors about archives that do what no program does
// that writes issue lists, and that would cost memory, time or files.
var ErrHostile = errors.New("refused as hostile")

// Limits of what is read. The largest issue lists met hold some thousand
// topics, viewpoints of a few MB and models of some hundred MB.
const (
	maxEntries    = 200_000
	maxTotalBytes = 8 << 30   // all files, unpacked
	maxFileBytes  = 1 << 30   // one file, unpacked
	maxPartBytes  = 32 << 20  // one XML file, unpacked
	maxXMLBytes   = 512 << 20 // all XML files, unpacked
	maxXMLMarks   = 500_000   // elements and attributes of one XML file, about
	maxXMLDepth   = 100
	maxRatio      = 250     // unpacked to packed, of what is larger than
	ratioFrom     = 1 << 20 // this
	maxNumber     = 1e12    // metres, degrees: far beyond map coordinates
	maxWarnings   = 200
)

// entry is a file of the archive under the name that is used for it.
type entry struct {
	name string
	zip  *zip.File
}

// entries lists the files, folders left out, after a look at all of them and
// before any is unpacked.
func entries(files []*zip.File) ([]entry, error) {
	if len(files) > maxEntries {
		return nil, fmt.Errorf("%w: %d files, at most %d are read", ErrHostile, len(files), maxEntries)
	}
	list := make([]entry, 0, len(files))
	seen := make(map[string]bool, len(files))
	var total uint64
	for _, f := range files {
		e := entry{entryName(f), f}
		if e.name == "" {
			continue // the folder itself
		}
		if err := e.check(); err != nil {
			return nil, err
		}
		if seen[e.name] {
			return nil, fmt.Errorf("%w: %s is there twice", ErrHostile, show(e.name))
		}
		seen[e.name] = true
		if f.UncompressedSize64 > maxTotalBytes || total+f.UncompressedSize64 > maxTotalBytes {
			return nil, fmt.Errorf("%w: it unpacks to more than %d GiB", ErrHostile, maxTotalBytes>>30)
		}
		total += f.UncompressedSize64
		if !strings.HasSuffix(e.name, "/") {
			list = append(list, e)
		}
	}
	return list, nil
}

// entryName is the name as text: older zip programs write that of an IBM PC.
func entryName(f *zip.File) string {
	name := f.Name
	if !utf8.ValidString(name) {
		if s, err := charmap.CodePage437.NewDecoder().String(name); err == nil {
			name = s
		}
	}
	return strings.TrimPrefix(name, "./")
}

func (e *entry) check() error {
	name, f := show(e.name), e.zip
	switch mode := f.Mode(); {
	case strings.Contains(e.name, `\`):
		return fmt.Errorf("%w: %s has a backslash in its name; the format asks for /", ErrHostile, name)
	case !validName(strings.TrimSuffix(e.name, "/")):
		return fmt.Errorf("%w: %s is a name that leads out of the archive or is none", ErrHostile, name)
	case mode&os.ModeSymlink != 0:
		return fmt.Errorf("%w: %s is a symbolic link", ErrHostile, name)
	case f.Flags&1 != 0:
		return fmt.Errorf("%s is encrypted; save the issue list without a password", name)
	case f.UncompressedSize64 > ratioFrom && f.UncompressedSize64/maxRatio > f.CompressedSize64:
		return fmt.Errorf("%w: %s unpacks to more than %d times its size", ErrHostile, name, maxRatio)
	}
	return nil
}

// validName reports whether a name stays below the folder that it is unpacked
// in, on any system.
func validName(name string) bool {
	if name == "." || !fs.ValidPath(name) || strings.Contains(name, `\`) || len(name) > 1 && name[1] == ':' {
		return false
	}
	return !strings.ContainsFunc(name, unicode.IsControl)
}

// show quotes a name of an archive for a message.
func show(name string) string {
	if len(name) > 120 {
		name = name[:120] + "..."
	}
	return fmt.Sprintf("%q", name)
}
