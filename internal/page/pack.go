package page

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"runtime"
	"sync"
)

// perPack is how many sheets are compressed together: enough that they share
// their words, few enough that one is there at once.
const perPack = 16

// writePacks writes the sheets, compressed, as data elements
// that no browser runs. Packages are made on all cores and written in order.
func (v *view) writePacks(w io.Writer) error {
	n := (len(v.rows) + perPack - 1) / perPack
	return inOrder(n, func(i int) ([]byte, error) {
		return v.sheetPack(v.rows[i*perPack : min((i+1)*perPack, len(v.rows))])
	}, func(i int, data []byte) error { return writeData(w, fmt.Sprintf(`id="p%d"`, i), data) })
}

func writeData(w io.Writer, attributes string, data []byte) error {
	if _, err := fmt.Fprintf(w, `<script type="application/gzip" %s>`, attributes); err != nil {
		return err
	}
	e := base64.NewEncoder(base64.StdEncoding, w)
	if _, err := e.Write(data); err != nil {
		return err
	}
	if err := e.Close(); err != nil {
		return err
	}
	_, err := io.WriteString(w, "</script>\n")
	return err
}

// sheetPack is a JSON list of sheets, compressed.
func (v *view) sheetPack(rows []*row) ([]byte, error) {
	list := make([]string, len(rows))
	for i, r := range rows {
		var drawing []byte
		if v.Views.Drawing != nil {
			var err error
			if drawing, err = v.Views.Drawing(r.F); err != nil {
				return nil, fmt.Errorf("finding %s: %w", r.F.ID, err)
			}
		}
		var b bytes.Buffer
		if err := sheetHTML(&b, r, drawing); err != nil {
			return nil, err
		}
		list[i] = b.String()
	}
	var data bytes.Buffer
	e := json.NewEncoder(&data)
	e.SetEscapeHTML(false)
	if err := e.Encode(list); err != nil {
		return nil, err
	}
	return squeeze(data.Bytes())
}

func squeeze(data []byte) ([]byte, error) {
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(data); err != nil {
		return nil, err
	}
	err = z.Close()
	return out.Bytes(), err
}

// inOrder makes n things on all cores and takes them in their order. No more are
// kept than cores work on.
func inOrder(n int, produce func(int) ([]byte, error), take func(int, []byte) error) error {
	type made struct {
		data []byte
		err  error
	}
	slots := make([]chan made, n)
	for i := range slots {
		slots[i] = make(chan made, 1)
	}
	workers := min(runtime.GOMAXPROCS(0), n)
	ahead := make(chan int, workers)
	stop := make(chan struct{})
	var wg sync.WaitGroup
	defer wg.Wait()
	defer close(stop)
	wg.Go(func() {
		defer close(ahead)
		for i := range n {
			select {
			case ahead <- i:
			case <-stop:
				return
			}
		}
	})
	for range workers {
		wg.Go(func() {
			for i := range ahead {
				data, err := produce(i)
				slots[i] <- made{data, err}
			}
		})
	}
	for i := range n {
		m := <-slots[i]
		if m.err != nil {
			return m.err
		}
		if err := take(i, m.data); err != nil {
			return err
		}
	}
	return nil
}
