package ifcread

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"runtime"
	"sync"
)

// ID is the number of an instance in its file.
type ID uint64

// Options steer reading. The zero value is right for most callers.
type Options struct {
	Workers int   // goroutines that scan; 0: one for each core. The result is the same
	MaxSize int64 // largest file or unpacked archive entry, bytes; 0: 4 GiB less one byte

	chunk int // bytes of a scanned range; for tests
}

const largest = 1<<32 - 1 // offsets are kept in 32 bits

func (o Options) maxSize() int64 {
	if o.MaxSize <= 0 || o.MaxSize > largest {
		return largest
	}
	return o.MaxSize
}

// File is a file that was read.
type File struct {
	name   string
	data   []byte
	packed []byte // the archive that data came out of; nil for a plain file
	schema Schema
	header Header
	ents   *entities
	table  *table

	offs  []uint32 // of the '#' of each instance, in file order
	types []Type
	index index
	rows  map[Type][]uint32 // of entities that are asked for by type

	problems problems
	groups   sync.Map // Type -> []Inst
	sum      func() string
}

// Header is what the header section says.
type Header struct {
	Name      string // of the file, as its writer knew it
	TimeStamp string // as written
	Schema    string // as written
	System    string // originating system
}

// Parse reads a file that is in memory. data is kept and must not change.
func Parse(name string, data []byte, o Options) (*File, error) {
	if int64(len(data)) > o.maxSize() {
		return nil, fmt.Errorf("%s: %d bytes are more than the %d that are read; split the model", name, len(data), o.maxSize())
	}
	f := &File{name: name, data: data, ents: known()}
	f.sum = sync.OnceValue(func() string { return hash(f.original()) })
	from, err := f.readHeader()
	if err != nil {
		return nil, err
	}
	f.table = &f.ents.tables[f.schema]
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	chunk := o.chunk
	if chunk == 0 {
		chunk = max(1<<20, len(data)/(4*workers))
	}
	f.gather(f.scan(from, workers, chunk))
	if len(f.offs) == 0 {
		return nil, fmt.Errorf("%s: no instance in it could be read", name)
	}
	return f, nil
}

func hash(b []byte) string {
	s := sha256.Sum256(b)
	return hex.EncodeToString(s[:])
}

func (f *File) original() []byte {
	if f.packed != nil {
		return f.packed
	}
	return f.data
}

// Name is the path or name that the file was read under.
func (f *File) Name() string { return f.name }

// Schema is the edition whose tables are used.
func (f *File) Schema() Schema { return f.schema }

// Header is what the header section says.
func (f *File) Header() Header { return f.header }

// Data is the text, unpacked when it came out of an archive. Do not change it.
func (f *File) Data() []byte { return f.data }

// SHA256 is the hash of the file as it lies on disk, hexadecimal. It is worked
// out on the first call; another goroutine may do that.
func (f *File) SHA256() string { return f.sum() }

// Len is the number of instances.
func (f *File) Len() int { return len(f.offs) }

// errNoIFC wraps what is no IFC file at all.
var errNoIFC = errors.New("not an IFC file")

// readHeader reads the header section and gives the place behind it.
func (f *File) readHeader() (int, error) {
	head := f.data[:min(len(f.data), 1<<20)]
	at := bytes.Index(head, []byte("FILE_SCHEMA"))
	if at < 0 {
		return 0, fmt.Errorf("%s: %w: no FILE_SCHEMA in its header", f.name, errNoIFC)
	}
	schema := f.headerArgs(at)
	if len(schema) > 0 {
		for v := range schema[0].All() {
			f.header.Schema, _ = v.Str()
			break
		}
	}
	var ok bool
	if f.schema, ok = parseSchema(f.header.Schema); !ok {
		return 0, fmt.Errorf("%s: its schema %q is not one of IFC2X3, IFC4 and IFC4X3", f.name, f.header.Schema)
	}
	if k := bytes.Index(head, []byte("FILE_NAME")); k >= 0 {
		if args := f.headerArgs(k); len(args) > 5 {
			f.header.Name, _ = args[0].Str()
			f.header.TimeStamp, _ = args[1].Str()
			f.header.System, _ = args[5].Str()
		}
	}
	return f.statementEnd(at, nil), nil
}

func (f *File) headerArgs(at int) []Value {
	k := bytes.IndexByte(f.data[at:], '(')
	if k < 0 {
		return nil
	}
	return split(f, f.data[at+k:], nil)
}

// gather puts the scanned blocks together.
func (f *File) gather(blocks []block) {
	n := 0
	var maxID ID
	for i := range blocks {
		n += len(blocks[i].offs)
		maxID = max(maxID, blocks[i].maxID)
	}
	f.offs = make([]uint32, 0, n)
	f.types = make([]Type, 0, n)
	f.rows = map[Type][]uint32{}
	listed := f.listed()
	for i := range blocks {
		b := &blocks[i]
		for k, t := range b.types {
			if listed[t] {
				f.rows[t] = append(f.rows[t], uint32(len(f.offs)+k))
			}
		}
		f.offs = append(f.offs, b.offs...)
		f.types = append(f.types, b.types...)
		for _, p := range b.bad {
			f.problems.add(p)
		}
		*b = block{}
	}
	f.index = f.makeIndex(maxID)
}

// listed are the entities that callers ask for by type: all with a GlobalId, and
// units. Points and polylines, which make up most of a file, are not listed.
func (f *File) listed() []bool {
	out := make([]bool, len(f.ents.names))
	for _, name := range []string{"IfcRoot", "IfcUnitAssignment", "IfcRepresentationContext", "IfcCoordinateOperation"} {
		super := TypeOf(name)
		for t := 1; t < len(out); t++ {
			out[t] = out[t] || f.table.isA(Type(t), super)
		}
	}
	return out
}
