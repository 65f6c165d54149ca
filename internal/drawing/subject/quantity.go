package subject

// Quantity is what a figure measures.
type Quantity string

const (
	EdgeDistance    Quantity = "edge distance"
	PlateEdge       Quantity = "plate edge"
	Spacing         Quantity = "spacing"
	Cone            Quantity = "share of cone"
	BarDistance     Quantity = "distance to bar"
	DepthToEdge     Quantity = "depth to edge distance"
	Embedment       Quantity = "embedment depth"
	BackCover       Quantity = "back cover"
	Thickness       Quantity = "member thickness"
	HookCover       Quantity = "concrete before hook"
	BarClearance    Quantity = "clear distance"
	ItemClearance   Quantity = "clear to item"
	OutOfSquare     Quantity = "out of square"
	Flush           Quantity = "off the face"
	Projection      Quantity = "projection"
	Level           Quantity = "out of level"
	InOther         Quantity = "length in other"
	Diameter        Quantity = "diameter"
	NothingMeasured Quantity = ""
)

// quantities tells what the figure of a rule measures; other rules have none
// that could be drawn as a dimension.
var quantities = map[string]Quantity{
	"edge-distance":           EdgeDistance,
	"plate-edge":              PlateEdge,
	"spacing":                 Spacing,
	"concrete-cone":           Cone,
	"supplementary-bars":      BarDistance,
	"side-face":               DepthToEdge,
	"embedment-depth":         Embedment,
	"back-cover":              BackCover,
	"through":                 BackCover,
	"member-thickness":        Thickness,
	"hook-direction":          HookCover,
	"reinforcement-clearance": BarClearance,
	"item-clearance":          ItemClearance,
	"square-to-face":          OutOfSquare,
	"flush":                   Flush,
	"projection":              Projection,
	"level":                   Level,
	"two-hosts":               InOther,
	"standard-size":           Diameter,
	"size-mismatch":           Diameter,
}
