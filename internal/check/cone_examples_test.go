package check_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"testing"

	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/rules"
)

// coneExample is a published or recomputed example of breakout in tension, as
// far as it is geometry. Lengths and areas are in its own unit, unit mm long.
type coneExample struct {
	source   string
	unit     float64
	d, depth float64
	at       []ifc.XY
	block    [4]float64 // least and greatest x, least and greatest y of the concrete
	thick    float64
	ratio    float64 // A_Nc / A_Nco, or A_c,N / A0_c,N
	edge     float64 // psi_ed,N or psi_s,N
	used     float64 // the depth that the figures go by: depth, or the reduced one
	open     float64 // projected area of the same anchors far from all edges
}

const inch = 25.4

// far is beyond the reach of every cone here, in the examples' units.
func far(depth float64) float64 { return 2.5 * depth }

func row(points ...float64) []ifc.XY {
	var out []ifc.XY
	for i := 0; i < len(points); i += 2 {
		out = append(out, ifc.XY{X: points[i], Y: points[i+1]})
	}
	return out
}

// open is a block without edges within reach of anchors between 0 and x, y.
func open(depth, x, y float64) [4]float64 {
	f := far(depth)
	return [4]float64{-f, x + f, -f, y + f}
}

// The figures of AISC Design Guide 1, 3rd edition, chapter 4 (ACI 318-19) were
// read in a machine-read copy, the pages are the guide's; those of ACI 349.2R-07
// in a reproduction of it; those of EN 1992-4 are worked out with its formulas
// (7.2.1.4), for want of a published example. Areas and ratios as printed are
// rounded to three figures.
func coneExamples() []coneExample {
	one := row(0, 0)
	return []coneExample{
		{"AISC Design Guide 1, example 4.7-3, pages 70 to 76: A_Nc 2400, A_Nco 2030 in2", inch, 0.875, 15,
			row(0, 0, 4, 0, 0, 4, 4, 4), open(15, 4, 4), 40, 2400.0 / 2030, 1, 15, 49 * 49},
		{"AISC Design Guide 1, example 4.7-5, pages 80 to 87: A_Nc 1280, A_Nco 1300 in2, 0.880", inch, 0.75, 12,
			row(0, 0, 0, 8.5), [4]float64{-10.75, far(12), -far(12), 8.5 + far(12)}, 40, 1280.0 / 1300, 0.880, 12, 36 * 44.5},
		{"AISC Design Guide 1, example 4.7-7, pages 96 to 103: A_Nc 7850, A_Nco 5180 in2 (the guide gives the spans, the places within them are ours)", inch, 1.5, 24,
			row(0, 0, 8, 0, 20, 0, 28, 0, 0, 6.5, 8, 6.5, 20, 6.5, 28, 6.5), open(24, 28, 6.5), 60, 7850.0 / 5180, 1, 24, 7850},
		{"AISC Design Guide 1, example 4.7-9, pages 109 to 113: A_Nc 1510, A_Nco 1300 in2", inch, 1, 12,
			row(0, 0, 6, 0), open(12, 6, 0), 40, 1510.0 / 1300, 1, 12, 1512},
		{"AISC Design Guide 1, example 4.7-11, pages 121 and 122: A_Nc 3560, A_Nco 2920 in2", inch, 1, 18,
			row(0, 0, 12, 0), open(18, 12, 0), 40, 3560.0 / 2920, 1, 18, 3564},
		{"ACI 349.2R-07, example A1: edges at 12, A_Nc = A_Nco = 197.96 in2", inch, 0.5, 4.69,
			one, [4]float64{-12, 40, -12, 40}, 18, 1, 1, 4.69, 197.96},
		{"ACI 349.2R-07, example A3: edges at 12 and 20, 6.63 deep", inch, 0.625, 6.63,
			one, [4]float64{-12, 40, -20, 40}, 18, 1, 1, 6.63, 9 * 6.63 * 6.63},
		{"ACI 349.2R-07, example A4: no edges, 17.57 deep", inch, 1.125, 17.57,
			one, open(17.57, 0, 0), 40, 1, 1, 17.57, 9 * 17.57 * 17.57},
		{"ACI 318, figure R17.6.2.1.2, from memory: A_Nc 200, A_Nco 144 in2, depth 4", inch, 0.5, 5.5,
			row(0, 0, 9, 0), [4]float64{-5, 60, -6, 4}, 40, 200.0 / 144, 0.9, 4, 16.5 * 25.5},
		{"PCA Notes on ACI 318, example 34.2, from memory: A_Nc 307, A_Nco 182 in2, 0.83", inch, 0.5, 4.5,
			row(0, 0, 6, 0, 0, 6, 6, 6), [4]float64{-3, 40, -40, 40}, 20, 307.0 / 182, 0.8333, 4.5, 19.5 * 19.5},
		{"EN 1992-4 formulas, single, far", 1, 20, 200, one, open(200, 0, 0), 500, 1, 1, 200, 360000},
		{"EN 1992-4 formulas, single, edge at 150: 270000 of 360000 mm2, 0.85", 1, 20, 200,
			one, [4]float64{-150, 800, -800, 800}, 500, 0.75, 0.85, 200, 360000},
		{"EN 1992-4 formulas, 2 x 2 at 100, edge at 100: 233750 of 202500 mm2, 0.8333", 1, 16, 150,
			row(0, 0, 100, 0, 0, 100, 100, 100), [4]float64{-100, 800, -800, 800}, 400, 1.1543, 0.8333, 150, 550 * 550},
		{"EN 1992-4 formulas, single, 80 deep: 57600 of 57600 mm2", 1, 12, 80, one, open(80, 0, 0), 300, 1, 1, 80, 57600},
		{"EN 1992-4 formulas, two at 200: 292500 of 202500 mm2", 1, 16, 150,
			row(0, 0, 200, 0), open(150, 200, 0), 400, 1.4444, 1, 150, 292500},
		{"EN 1992-4 formulas, pier of 400 x 400: 160000 of 40000 mm2, depth 66.67", 1, 20, 300,
			row(0, 0, 200, 0, 0, 200, 200, 200), [4]float64{-100, 300, -100, 300}, 2000, 4, 1, 200.0 / 3, 1100 * 1100},
	}
}

// model is the example as an IFC model.
func (c *coneExample) model(schema ifc.Schema, unit ifc.Unit, place ifc.Frame) []byte {
	b := ifc.New(schema, unit, ifc.Placed(place))
	k := c.unit
	b.Add(ifc.Element{Class: "IfcFooting", Name: "CF-1", At: here, Material: "Concrete C32/40", Body: []ifc.Solid{
		ifc.Block(ifc.V(c.block[0]*k, c.block[2]*k, -c.thick*k), ifc.V(c.block[1]*k, c.block[3]*k, 0)),
	}})
	bolt := embed.Bolt{D: c.d * k, Depth: c.depth * k, Out: 100, End: embed.Headed}
	if len(c.at) == 1 {
		bolt.Add(b, ifc.Element{Name: "Bolt", Tag: "HD-1", At: here})
		return b.Bytes()
	}
	var pattern []ifc.XY
	for _, p := range c.at {
		pattern = append(pattern, ifc.XY{X: p.X * k, Y: p.Y * k})
	}
	embed.Set{Name: "HD-1", BoltName: "Hold-down bolt", Material: "Steel 4.6", Pattern: pattern, Bolt: bolt}.Assembly(b, ifc.Element{Tag: "HD-1", At: here})
	return b.Bytes()
}

var coneFigures = regexp.MustCompile(`projected area ([\d.]+) times that of one anchor, edge factor ([\d.]+)(?:, three or more edges near, so that a depth of ([\d.]+) mm counts)?`)

// Each example is built as a model, read, recognised and checked; what the
// finding says is held against the figures of the source. A printed area is good
// to half a per cent, a printed factor of the tool to its second decimal.
func TestConeExamplesAsModels(t *testing.T) {
	set := &rules.Set{Name: "all", Rules: map[string]rules.Change{"concrete-cone": {Limit: rules.Limit{{Unit: rules.Ratio, Value: 2}}}}}
	places := []ifc.Frame{here, turned, standing, farAway}
	units := []ifc.Unit{ifc.MM, ifc.Inch, ifc.Metre, ifc.Foot}
	schemas := []ifc.Schema{ifc.IFC4, ifc.IFC2X3, ifc.IFC4X3}
	for i, c := range coneExamples() {
		t.Run(c.source, func(t *testing.T) {
			path := writeModel(t, "example.ifc", c.model(schemas[i%3], units[i%4], places[(i/2)%4]))
			found := placesIn(t, []string{path}, set, "concrete-cone")
			if len(found) != 1 {
				t.Fatalf("%d places, want the one set", len(found))
			}
			share := c.ratio * c.edge * math.Pow(c.used/c.depth, 1.5) * 9 * c.depth * c.depth / c.open
			if got := found[0].Measured; math.Abs(got-share) > 0.01*share {
				t.Errorf("share %.4f, want %.4f", got, share)
			}
			m := coneFigures.FindStringSubmatch(found[0].Text)
			if m == nil {
				t.Fatalf("no figures in %q", found[0].Text)
			}
			depth := fmt.Sprint(c.depth * c.unit)
			if m[3] != "" {
				depth = m[3]
			}
			for k, want := range []struct {
				what  string
				value float64
				off   float64
			}{{"ratio of areas", c.ratio, 0.01 + 0.005*c.ratio}, {"edge factor", c.edge, 0.0051}} {
				if got, err := strconv.ParseFloat(m[k+1], 64); err != nil || math.Abs(got-want.value) > want.off {
					t.Errorf("%s %s, want %.4f", want.what, m[k+1], want.value)
				}
			}
			if got, err := strconv.ParseFloat(depth, 64); err != nil || math.Abs(got-c.used*c.unit) > 0.06 {
				t.Errorf("depth %s mm, want %.2f", depth, c.used*c.unit)
			}
		})
	}
}
