package bcf

import (
	"bytes"
	"fmt"
	"image/png"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

// Scene is what can be shown of a finding beside its figures. Everything in it
// may be missing.
type Scene struct {
	Picture []byte   // PNG of at most 1500 pixels a side, as the standard has it
	Camera  *Camera  // that the picture was taken with
	Cut     *Plane   // that lays open what is cast in; the picture is cut by it too
	Host    *Ball    // the host, for the view of the whole
	Drawing *Drawing // dimensioned drawing
}

// Ball encloses something: metres.
type Ball struct {
	Centre geom.Vec
	Radius float64
}

// Drawing is a file that a topic refers to as its document.
type Drawing struct {
	Name string // in the topic's folder
	Data []byte
}

// Names of files in the topic's folder. 2.1 asks for those of the first view;
// some readers of 3.0 look for them too.
const (
	firstView   = "viewpoint.bcfv"
	secondView  = "overview.bcfv"
	pictureFile = "snapshot.png"
)

// addScene adds the views of a finding, its picture and its drawing. The first
// view, the only one that some readers take, is the close one that shows what
// the concrete hides; the second shows the host as a whole.
func (w *Writer) addScene(t *Topic, f *finding.Finding, d shown) error {
	s := &Scene{}
	if w.Scene != nil {
		got, err := w.Scene(f)
		if err != nil {
			return err
		}
		if got != nil {
			s = got
		}
	}
	first, err := w.closeUp(t, f, d, s)
	if err != nil {
		return err
	}
	if first != nil {
		t.Viewpoints = append(t.Viewpoints, *first)
	}
	if v := overview(t, f, d, s); v != nil && first != nil && first.View != nil {
		t.Viewpoints = append(t.Viewpoints, *v)
	}
	if s.Drawing != nil {
		t.Files = append(t.Files, NewFile(s.Drawing.Name, s.Drawing.Data))
		t.Documents = append(t.Documents, DocumentRef{
			GUID:        derivedGUID(t.GUID, "drawing"),
			Description: "Dimensioned drawing",
			Path:        s.Drawing.Name,
		})
	}
	return nil
}

// closeUp is the view of the worst place; nil when there is nothing to be seen.
func (w *Writer) closeUp(t *Topic, f *finding.Finding, d shown, s *Scene) (*Viewpoint, error) {
	view := &View{Selection: d.selection, DefaultVisibility: true, Coloring: d.coloring, Camera: s.Camera}
	if view.Camera == nil {
		view.Camera = cameraFor(f)
	} else if len(d.host) > 0 && len(d.hidden) == 0 && d.cut == 0 {
		// Neighbours would stand before the cut face.
		view.DefaultVisibility = false
		view.Exceptions = append(append([]Component(nil), d.selection...), d.host...)
	}
	if s.Cut != nil && view.Camera != nil {
		view.Planes = []Plane{*s.Cut}
	}
	v := &Viewpoint{}
	// 3.0 has no view without a camera.
	if view.Camera != nil || w.Version == V21 && len(view.Selection) > 0 {
		v.View, v.File = view, firstView
	}
	if s.Picture != nil {
		if err := checkPNG(s.Picture); err != nil {
			return nil, fmt.Errorf("snapshot: %w", err)
		}
		v.Snapshot = pictureFile
		t.Files = append(t.Files, NewFile(v.Snapshot, s.Picture))
	}
	if v.File == "" && v.Snapshot == "" {
		return nil, nil
	}
	v.GUID = derivedGUID(t.GUID, "viewpoint "+view.fingerprint())
	return v, nil
}

// overview shows the host in its building, from its open side; nil when the
// host's place is not known.
func overview(t *Topic, f *finding.Finding, d shown, s *Scene) *Viewpoint {
	w := f.Worst()
	if s.Host == nil || w == nil || !(s.Host.Radius > 0) {
		return nil
	}
	view := &View{
		Selection: d.selection, DefaultVisibility: true, Coloring: d.coloring,
		Camera: lookAt(openSide(f, w), s.Host.Centre, max(s.Host.Radius, leastRadius)*wholeHost),
	}
	return &Viewpoint{GUID: derivedGUID(t.GUID, "viewpoint "+view.fingerprint()), File: secondView, View: view}
}

const maxPixels = 1500 // a side

func checkPNG(data []byte) error {
	c, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return err
	}
	if c.Width > maxPixels || c.Height > maxPixels {
		return fmt.Errorf("%d x %d pixels, at most %d a side are allowed", c.Width, c.Height, maxPixels)
	}
	return nil
}
