package ifcread

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"iter"
	"math"
	"runtime"
	"sync"
)

// ID is the number of an instance in its file.
type ID uint64

// Options steer reading. The zero value is right for most callers.
type Options struct {
	// Workers is how many goroutines scan; 0: one for each core. The result is
	// the same for any number.
	Workers int
	// MaxSize is the largest file, or unpacked archive entry, that is read, in
	// bytes; 0: the largest possible, 4 GiB less one byte.
	MaxSize int64

	chunk int // bytes of a scanned range; for tests
}

// largest is how much 32-bit offsets can tell apart.
const largest = 1<<32 - 1

func (o Options) maxSize() int64 {
	most := min(largest, int64(math.MaxInt))
	if o.MaxSize > 0 {
		return min(o.MaxSize, most)
	}
	return most
}

func (o Options) workers() int {
	if o.Workers > 0 {
		return o.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// File is a file that was read. It does not change, and many goroutines may use
// it. Its index takes some 8 bytes for each instance.
type File struct {
	name   string
	data   []byte
	sum    func() string
	schema Schema
	header Header

	offs   []uint32 // of the '#' of each instance, in the order of the file
	types  []Type
	index  index
	faults faults     // found while scanning
	xml    *xmlPlaces // nil unless the file is XML

	late     late
	lines    lineTable
	groups   sync.Map // Type -> []Inst
	listOnce sync.Once
	listed   []bool     // by Type
	rows     [][]uint32 // of listed types, by Type
}

// Parse reads a file that is in memory; name stands for it in messages. data is
// kept and must not change. The error is non-nil only when nothing can be used.
func Parse(name string, data []byte, o Options) (*File, error) {
	return read(name, data, data, o)
}

// read reads data, which came out of the file original.
func read(name string, data, original []byte, o Options) (*File, error) {
	if int64(len(data)) > o.maxSize() {
		return nil, tooLarge(name, int64(len(data)), o)
	}
	f := &File{name: name, data: data}
	f.sum = sync.OnceValue(func() string {
		s := sha256.Sum256(original)
		return hex.EncodeToString(s[:])
	})
	from, err := 0, error(nil)
	if isXML(data) {
		err = f.readXML(o)
	} else {
		from, err = f.readHeader()
	}
	if err != nil {
		return nil, err
	}
	chunk := o.chunk
	if chunk <= 0 {
		chunk = scanChunk
	}
	f.scan(from, o.workers(), chunk)
	if len(f.offs) == 0 {
		return nil, fmt.Errorf("%s: there is no instance in it that can be read; export the model again", name)
	}
	return f, nil
}

func tooLarge(name string, size int64, o Options) error {
	return fmt.Errorf("%s: its %d bytes are more than the %d that are read; split the model", name, size, o.maxSize())
}

// Name is the path or name that the file was read under.
func (f *File) Name() string { return f.name }

// Schema is the edition whose tables are used.
func (f *File) Schema() Schema { return f.schema }

// Header is what the header section says.
func (f *File) Header() Header { return f.header }

// Data is the text, unpacked when it came out of an archive; for XML it is the
// clear text that stands for it. Do not change it.
func (f *File) Data() []byte { return f.data }

// SHA256 is the hash of the file as it lies on disk, in hexadecimal digits. It is
// worked out on the first call, which may be in a goroutine of its own.
func (f *File) SHA256() string { return f.sum() }

// All is every instance, in the order of the file.
func (f *File) All() iter.Seq[Inst] {
	return func(yield func(Inst) bool) {
		for row := range f.offs {
			if !yield(Inst{f, uint32(row)}) {
				return
			}
		}
	}
}

// Len is the number of instances.
func (f *File) Len() int { return len(f.offs) }
