package bcf

import (
	"math"
	"strings"

	"github.com/beevik/etree"

	"embedcheck/internal/geom"
)

// Decimals of places in metres, of directions, and of angles and ratios.
const (
	placeDecimals     = 6
	directionDecimals = 9
	angleDecimals     = 6
)

// view is a viewpoint's file.
func (e *Encoder) view(guid string, v *View) ([]byte, error) {
	doc, root := newDocument("VisualizationInfo")
	root.CreateAttr("Guid", e.guid(guid))
	e.components(root.CreateElement("Components"), v)
	e.camera(root, v.Camera)
	lines := wrapper(root, "Lines", v.Lines)
	for _, l := range v.Lines {
		el := lines.CreateElement("Line")
		vector(el, "StartPoint", l.From, placeDecimals)
		vector(el, "EndPoint", l.To, placeDecimals)
	}
	planes := wrapper(root, "ClippingPlanes", v.Planes)
	for _, p := range v.Planes {
		el := planes.CreateElement("ClippingPlane")
		vector(el, "Location", p.At, placeDecimals)
		vector(el, "Direction", p.Direction, directionDecimals)
	}
	e.bitmaps(root, v.Bitmaps)
	return document(doc)
}

func (e *Encoder) components(el *etree.Element, v *View) {
	if e.v == V21 {
		hints(el, v.Hints)
	}
	components(wrapper(el, "Selection", v.Selection), v.Selection)
	visibility := el.CreateElement("Visibility")
	visibility.CreateAttr("DefaultVisibility", boolean(v.DefaultVisibility))
	if e.v == V30 {
		hints(visibility, v.Hints)
	}
	components(wrapper(visibility, "Exceptions", v.Exceptions), v.Exceptions)
	var colors []Color
	for _, c := range v.Coloring {
		if len(c.Components) > 0 && isColor(c.Color) {
			colors = append(colors, c)
		}
	}
	coloring := wrapper(el, "Coloring", colors)
	for _, c := range colors {
		color := coloring.CreateElement("Color")
		color.CreateAttr("Color", strings.ToUpper(c.Color))
		if e.v == V30 {
			color = color.CreateElement("Components")
		}
		components(color, c.Components)
	}
}

// isColor reports whether s is RRGGBB or AARRGGBB.
func isColor(s string) bool {
	if len(s) != 6 && len(s) != 8 {
		return false
	}
	return strings.Trim(s, "0123456789abcdefABCDEF") == ""
}

func hints(parent *etree.Element, h *Hints) {
	if h == nil {
		return
	}
	el := parent.CreateElement("ViewSetupHints")
	el.CreateAttr("SpacesVisible", boolean(h.Spaces))
	el.CreateAttr("SpaceBoundariesVisible", boolean(h.SpaceBoundaries))
	el.CreateAttr("OpeningsVisible", boolean(h.Openings))
}

func components(parent *etree.Element, list []Component) {
	for _, c := range list {
		el := parent.CreateElement("Component")
		if !globalID(el, "IfcGuid", c.GlobalID) {
			c.ToolID = or(c.ToolID, c.GlobalID)
		}
		leaf(el, "OriginatingSystem", c.System)
		leaf(el, "AuthoringToolId", c.ToolID)
	}
}

// standIn is the camera of a view that has none: 3.0 asks for one.
var standIn = Camera{Direction: geom.V(0, 1, 0), Up: geom.V(0, 0, 1), Field: 60, Aspect: 1}

func (e *Encoder) camera(root *etree.Element, c *Camera) {
	if c == nil {
		if e.v == V21 {
			return
		}
		c = &standIn
	}
	tag := "PerspectiveCamera"
	if c.Scale > 0 {
		tag = "OrthogonalCamera"
	}
	el := root.CreateElement(tag)
	vector(el, "CameraViewPoint", c.Eye, placeDecimals)
	vector(el, "CameraDirection", c.Direction, directionDecimals)
	vector(el, "CameraUpVector", c.Up, directionDecimals)
	aspect := c.Aspect
	if !(aspect > 0) {
		aspect = 1
	}
	switch {
	case c.Scale > 0:
		el.CreateElement("ViewToWorldScale").SetText(decimal(c.Scale, placeDecimals))
	case e.v == V30:
		field := min(max(c.Field, 0.001), 179.999)
		el.CreateElement("FieldOfView").SetText(decimal(field, angleDecimals))
	default:
		el.CreateElement("FieldOfView").SetText(decimal(horizontalField(c.Field, aspect), angleDecimals))
	}
	if e.v == V30 {
		el.CreateElement("AspectRatio").SetText(decimal(aspect, angleDecimals))
	}
}

// horizontalField is the field of view as 2.1 has it: from left to right, and
// between 45 and 60 degrees.
func horizontalField(vertical, aspect float64) float64 {
	h := 2 * math.Atan(math.Tan(vertical*math.Pi/360)*aspect) * 180 / math.Pi
	if !(h > 45) {
		return 45
	}
	return min(h, 60)
}

func (e *Encoder) bitmaps(root *etree.Element, list []Bitmap) {
	parent, format := root, "Bitmap"
	if e.v == V30 {
		parent, format = wrapper(root, "Bitmaps", list), "Format"
	}
	for _, b := range list {
		el := parent.CreateElement("Bitmap")
		f := "png"
		if strings.EqualFold(b.Format, "jpg") {
			f = "jpg"
		}
		if e.v == V21 {
			f = strings.ToUpper(f)
		}
		leaf(el, format, f)
		must(el, "Reference", b.Reference, "-")
		vector(el, "Location", b.At, placeDecimals)
		vector(el, "Normal", b.Normal, directionDecimals)
		vector(el, "Up", b.Up, directionDecimals)
		el.CreateElement("Height").SetText(decimal(b.HeightMetre, placeDecimals))
	}
}
