package bcf

import (
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

const drawn = `<svg xmlns="http://www.w3.org/2000/svg"/>`

// withScene gives every finding a camera, a cut, a host and a drawing.
func withScene(w *Writer) *Writer {
	w.Scene = func(f *finding.Finding) (*Scene, error) {
		return &Scene{
			Camera:  &Camera{Eye: geom.V(1, -3, 2), Direction: geom.V(0, 1, 0), Up: geom.V(0, 0, 1), Field: 45, Aspect: 4.0 / 3},
			Cut:     &Plane{At: geom.V(1, 2.6, 0.58), Direction: geom.V(0, -1, 0)},
			Host:    &Ball{Centre: geom.V(2, 2.6, 1), Radius: 4},
			Drawing: &Drawing{Name: "drawing.svg", Data: []byte(drawn)},
		}, nil
	}
	return w
}

func TestTwoViews(t *testing.T) {
	for _, v := range versions {
		a := read(t, write(t, withScene(writer(v)), demo()))
		top := a.Topics[0]
		if len(top.Viewpoints) != 2 {
			t.Fatalf("%s: %d views", v, len(top.Viewpoints))
		}
		near, far := top.Viewpoints[0], top.Viewpoints[1]
		if near.File != "viewpoint.bcfv" || top.Comments[0].Viewpoint != near.GUID {
			t.Errorf("%s: the close view is not the one that readers take: %+v", v, near)
		}
		if len(near.View.Planes) != 1 || near.View.Planes[0] != (Plane{geom.V(1, 2.6, 0.58), geom.V(0, -1, 0)}) {
			t.Errorf("%s: planes %+v", v, near.View.Planes)
		}
		ids := func(list []Component) (s []string) {
			for _, c := range list {
				s = append(s, c.GlobalID)
			}
			return s
		}
		seen := append(ids(near.View.Selection), wall.GlobalID)
		if near.View.DefaultVisibility || !slices.Equal(ids(near.View.Exceptions), seen) {
			t.Errorf("%s: the close view shows %v, want %v", v, ids(near.View.Exceptions), seen)
		}
		if !far.View.DefaultVisibility || len(far.View.Planes) != 0 || len(far.View.Selection) == 0 {
			t.Errorf("%s: the far view hides something: %+v", v, far.View)
		}
		to := geom.V(2, 2.6, 1).Sub(far.View.Camera.Eye)
		if to.Unit().Dot(far.View.Camera.Direction) < 0.999 || to.Norm() < 4 {
			t.Errorf("%s: the far view does not look at the host: %+v", v, far.View.Camera)
		}
	}
}

// What has no GlobalId could not be shown again once it is hidden.
func TestNothingIsHiddenThatCannotBeNamed(t *testing.T) {
	run := demo()
	run.Findings[0].Instances[0].Item.GlobalID = ""
	a := read(t, write(t, withScene(writer(V30)), run))
	if !a.Topics[0].Viewpoints[0].View.DefaultVisibility {
		t.Error("the item is hidden")
	}
}

func TestDrawingIsADocument(t *testing.T) {
	for _, v := range versions {
		data := write(t, withScene(writer(v)), demo())
		files, _ := unpack(t, data)
		a := read(t, data)
		for _, top := range a.Topics {
			if len(top.Documents) != 1 {
				t.Fatalf("%s: documents %+v", v, top.Documents)
			}
			d := top.Documents[0]
			name := strings.ToLower(top.GUID) + "/" + d.Path
			if v == V30 {
				name = "Documents/" + d.Document
			}
			if string(files[name]) != drawn {
				t.Errorf("%s: %s does not hold the drawing", v, name)
			}
		}
	}
}
