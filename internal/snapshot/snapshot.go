package snapshot

import (
	"bytes"
	"image"
	"image/png"
	"runtime"
	"sync"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// Maker renders findings of one model. It may be shared by goroutines.
type Maker struct{ index *subject.Index }

// New gets ready to render findings of a model.
func New(m *model.Model) *Maker { return &Maker{subject.NewIndex(m)} }

// With renders with an index that is there already.
func With(x *subject.Index) *Maker { return &Maker{x} }

// Render is the picture of one finding as PNG. For many of one model, use New.
func Render(m *model.Model, f *finding.Finding) ([]byte, error) { return New(m).Render(f) }

// View is the camera of the picture of a finding.
func (k *Maker) View(f *finding.Finding) (Camera, error) {
	s, err := k.index.Of(f)
	if err != nil {
		return Camera{}, err
	}
	return newView(s).camera(k.index.Model()), nil
}

var buffers = sync.Pool{New: func() any { return newBuffer() }}

// Render is the picture of a finding as PNG. The error is a
// *subject.NoPlaceError when there is nothing to be seen of it in the model.
func (k *Maker) Render(f *finding.Finding) ([]byte, error) {
	s, err := k.index.Of(f)
	if err != nil {
		return nil, err
	}
	v := newView(s)
	img := picture(s, v)
	caption(img, s)
	var out bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	err = enc.Encode(&out, img)
	return out.Bytes(), err
}

func picture(s *subject.Subject, v *view) *image.RGBA {
	sc := newScene(s, v)
	l := newLens(v)
	b := buffers.Get().(*buffer)
	defer buffers.Put(b)
	b.clear()
	for i := range sc.tris {
		l.draw(b, &sc.tris[i], int32(i+1), bias[sc.tris[i].paint])
	}
	img := l.resolve(b, sc.tris)
	if from, to, ok := s.Measured(); ok {
		l.measured(img, from, to)
	}
	return img
}

// each runs f for 0 to n-1 on all cores.
func each(n int, f func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	var wg sync.WaitGroup
	for w := range workers {
		wg.Go(func() {
			for i := w * n / workers; i < (w+1)*n/workers; i++ {
				f(i)
			}
		})
	}
	wg.Wait()
}
