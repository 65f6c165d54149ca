package bcf

import (
	"fmt"
	"strings"
)

// view reads a viewpoint's file of either version.
func (in *reading) view(root *node) (*View, error) {
	if root.Tag != "VisualizationInfo" {
		return nil, fmt.Errorf("%s is no viewpoint", root.Tag)
	}
	v := &View{}
	for _, el := range root.ChildElements() {
		var err error
		switch el.Tag {
		case "Components":
			in.componentsOf(v, el)
		case "OrthogonalCamera", "PerspectiveCamera":
			v.Camera, err = camera(el)
		case "Lines":
			err = in.lines(v, el)
		case "ClippingPlanes":
			err = in.planes(v, el)
		case "Bitmap":
			err = in.bitmap(v, el)
		case "Bitmaps":
			for _, b := range el.SelectElements("Bitmap") {
				if err = in.bitmap(v, b); err != nil {
					break
				}
			}
		}
		if err != nil {
			return nil, err
		}
	}
	return v, nil
}

func (in *reading) componentsOf(v *View, components *node) {
	for _, el := range components.ChildElements() {
		switch el.Tag {
		case "ViewSetupHints":
			v.Hints = hintsOf(el)
		case "Selection":
			v.Selection = in.componentList(el)
		case "Visibility":
			v.DefaultVisibility, _ = yes(el, "DefaultVisibility")
			for _, c := range el.ChildElements() {
				switch c.Tag {
				case "ViewSetupHints":
					v.Hints = hintsOf(c)
				case "Exceptions":
					v.Exceptions = in.componentList(c)
				}
			}
		case "Coloring":
			for _, c := range el.SelectElements("Color") {
				list := c
				if w := c.SelectElement("Components"); w != nil {
					list = w
				}
				v.Coloring = append(v.Coloring, Color{in.attribute(c, "Color"), in.componentList(list)})
			}
		}
	}
}

func hintsOf(el *node) *Hints {
	h := &Hints{}
	h.Spaces, _ = yes(el, "SpacesVisible")
	h.SpaceBoundaries, _ = yes(el, "SpaceBoundariesVisible")
	h.Openings, _ = yes(el, "OpeningsVisible")
	return h
}

func (in *reading) componentList(el *node) []Component {
	var list []Component
	for _, c := range el.SelectElements("Component") {
		x := Component{GlobalID: in.attribute(c, "IfcGuid")}
		for _, p := range c.ChildElements() {
			switch p.Tag {
			case "OriginatingSystem":
				x.System = text(p)
			case "AuthoringToolId":
				x.ToolID = text(p)
			}
		}
		list = append(list, x)
	}
	return list
}

// camera reads a camera. Without an aspect ratio, as in 2.1, the picture counts
// as square, so that the field of view is the same in both directions; 3.0 asks
// readers to do so.
func camera(el *node) (*Camera, error) {
	c := &Camera{Aspect: 1}
	for _, x := range el.ChildElements() {
		var err error
		switch x.Tag {
		case "CameraViewPoint":
			c.Eye, err = vec(x)
		case "CameraDirection":
			c.Direction, err = vec(x)
		case "CameraUpVector":
			c.Up, err = vec(x)
		case "FieldOfView":
			c.Field, err = number(x)
		case "ViewToWorldScale":
			c.Scale, err = number(x)
		case "AspectRatio":
			c.Aspect, err = number(x)
		}
		if err != nil {
			return nil, err
		}
	}
	return c, nil
}

func (in *reading) lines(v *View, el *node) error {
	for _, l := range el.SelectElements("Line") {
		from, to := l.SelectElement("StartPoint"), l.SelectElement("EndPoint")
		if from == nil || to == nil {
			return fmt.Errorf("a line without its ends")
		}
		a, err := vec(from)
		if err != nil {
			return err
		}
		b, err := vec(to)
		if err != nil {
			return err
		}
		v.Lines = append(v.Lines, Line{a, b})
	}
	return nil
}

func (in *reading) planes(v *View, el *node) error {
	for _, p := range el.SelectElements("ClippingPlane") {
		at, dir := p.SelectElement("Location"), p.SelectElement("Direction")
		if at == nil || dir == nil {
			return fmt.Errorf("a clipping plane without place or direction")
		}
		a, err := vec(at)
		if err != nil {
			return err
		}
		d, err := vec(dir)
		if err != nil {
			return err
		}
		v.Planes = append(v.Planes, Plane{a, d})
	}
	return nil
}

func (in *reading) bitmap(v *View, el *node) error {
	b := Bitmap{}
	for _, c := range el.ChildElements() {
		var err error
		switch c.Tag {
		case "Format", "Bitmap":
			b.Format = strings.ToLower(word(c))
		case "Reference":
			b.Reference = text(c)
		case "Location":
			b.At, err = vec(c)
		case "Normal":
			b.Normal, err = vec(c)
		case "Up":
			b.Up, err = vec(c)
		case "Height":
			b.HeightMetre, err = number(c)
		}
		if err != nil {
			return err
		}
	}
	v.Bitmaps = append(v.Bitmaps, b)
	return nil
}
