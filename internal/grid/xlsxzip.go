package grid

import (
	"archive/zip"
	"bytes"
	"io"
	"maps"
	"slices"

	"github.com/xuri/excelize/v2"
)

// sortedZip writes the parts of a workbook in the order of their names: the
// library writes the sheets in another order on each run. The part that lists
// the types of the others comes first so, as readers that look only at the
// beginning expect.
type sortedZip struct {
	excelize.ZipWriter // of the library; Close ends it
	parts              map[string]*bytes.Buffer
}

func newSortedZip(w io.Writer) excelize.ZipWriter {
	return &sortedZip{ZipWriter: zip.NewWriter(w), parts: map[string]*bytes.Buffer{}}
}

// Create keeps a part until all are known.
func (z *sortedZip) Create(name string) (io.Writer, error) {
	b := &bytes.Buffer{}
	z.parts[name] = b
	return b, nil
}

// Close writes the parts.
func (z *sortedZip) Close() error {
	for _, name := range slices.Sorted(maps.Keys(z.parts)) {
		w, err := z.ZipWriter.Create(name)
		if err != nil {
			return err
		}
		if _, err := z.parts[name].WriteTo(w); err != nil {
			return err
		}
	}
	return z.ZipWriter.Close()
}
