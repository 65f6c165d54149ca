package snapshot

import (
	"bytes"
	"image"
	"image/png"
	"sync"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// Maker renders findings of one model. It may be shared by goroutines.
type Maker struct{ index *subject.Index }

// New gets ready to render findings of the model that an index is of.
func New(x *subject.Index) *Maker { return &Maker{x} }

// Shot is the picture of a finding, as PNG, and the camera that took it.
type Shot struct {
	PNG    []byte
	Camera Camera
	Host   geom.Box // of the host, metres in the model's own world coordinates; empty when there is none
}

var (
	buffers  = sync.Pool{New: func() any { return newBuffer() }}
	pictures = sync.Pool{New: func() any { return image.NewRGBA(image.Rect(0, 0, width, height)) }}
	encoder  = png.Encoder{CompressionLevel: png.BestSpeed, BufferPool: &encoderBuffers{}}
)

// encoderBuffers lets pictures share what the encoder needs besides the pixels,
// more than a megabyte.
type encoderBuffers struct{ pool sync.Pool }

func (p *encoderBuffers) Get() *png.EncoderBuffer {
	b, _ := p.pool.Get().(*png.EncoderBuffer)
	return b
}

func (p *encoderBuffers) Put(b *png.EncoderBuffer) { p.pool.Put(b) }

// Take takes the picture of a finding. The error is a *subject.NoPlaceError
// when there is nothing to be seen of it in the model.
func (k *Maker) Take(f *finding.Finding) (*Shot, error) {
	s, err := k.index.Of(f)
	if err != nil {
		return nil, err
	}
	v := newView(s)
	img := pictures.Get().(*image.RGBA)
	defer pictures.Put(img)
	picture(img, s, v)
	caption(img, s)
	var out bytes.Buffer
	if err := encoder.Encode(&out, img); err != nil {
		return nil, err
	}
	m := k.index.Model()
	shot := &Shot{PNG: out.Bytes(), Camera: v.camera(m), Host: geom.EmptyBox}
	if s.Host != nil {
		shot.Host = geom.EmptyBox.Add(m.World(s.Host.Box.Min)).Add(m.World(s.Host.Box.Max))
	}
	return shot, nil
}

// picture paints every pixel of img.
func picture(img *image.RGBA, s *subject.Subject, v *view) {
	sc := newScene(s, v)
	l := newLens(v)
	b := buffers.Get().(*buffer)
	defer buffers.Put(b)
	b.clear()
	for i := range sc.tris {
		l.draw(b, &sc.tris[i], int32(i+1), bias[sc.tris[i].paint])
	}
	l.resolve(img, b, sc.tris)
	if from, to, ok := s.Measured(); ok {
		l.measured(img, from, to)
	}
}
