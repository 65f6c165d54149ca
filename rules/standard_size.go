package rules

import (
	"fmt"
	"math"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// StandardSize finds diameters that no series has.
var StandardSize = &Rule{
	ID:       "standard-size",
	Title:    "Odd diameter",
	Measured: "diameter",
	Doc: Doc{
		Wrong:    "There is no bolt of this diameter: it was scaled, or exported in the wrong unit, and what is set will be another one.",
		Measured: "The diameter of the shank in the model against the nearest one of the metric and inch series of threads, of welded studs and of reinforcing bars; half a millimetre is let pass.",
		Do:       "Correct the size in the model, or the unit of the export.",
		Blind:    "Whether the size is the one that was meant: size-mismatch compares it with what the model states.",
	},
	Unit:     "mm",
	Relation: finding.Equal,
	Kinds:    []model.Kind{model.Bolt, model.Stud, model.Plate},
	Default: Params{
		Priority: finding.Note,
		Cites:    []Citation{{"", "ISO 261, ISO 13918, ASTM F1554 and ASTM A615 series", Memory}},
	},
	Run: standardSize,
}

// series are the diameters in mm that shanks come in: metric threads and studs
// of ISO 261 and ISO 13918, bars of EN 10080 and AS/NZS 4671, inch threads, and
// bars of ASTM A615.
var series = []float64{
	5, 6, 8, 10, 12, 13, 14, 16, 18, 19, 20, 22, 24, 25, 27, 28, 30, 32, 33, 36, 39, 40, 42, 45, 48, 50, 52, 56, 60, 64, 72, 80, 90, 100,
	6.35, 7.94, 9.53, 12.7, 15.88, 19.05, 22.23, 25.4, 28.58, 31.75, 34.93, 38.1, 44.45, 50.8, 57.15, 63.5, 69.85, 76.2, 82.55, 88.9, 95.25, 101.6,
	9.5, 15.9, 19.1, 22.2, 25.4, 28.7, 32.3, 35.8, 43, 57.3,
}

const seriesTol = 0.5 // mm

func standardSize(p *Pass) error {
	for it := range p.Items() {
		for _, a := range it.Anchors {
			if a.Diameter <= 0 {
				continue
			}
			best := series[0]
			for _, s := range series {
				if math.Abs(s-a.Diameter) < math.Abs(best-a.Diameter) {
					best = s
				}
			}
			if !geom.Over(math.Abs(best-a.Diameter), seriesTol) {
				continue
			}
			p.Report(Hit{
				Item: it, Anchor: a, Measured: a.Diameter, Required: Required{Value: best, Governs: MM},
				At: entryPoint(a), Normal: normal(a),
				Text: fmt.Sprintf("%s is %s mm thick, which is no diameter that bolts, studs or bars come in; the nearest is %s mm",
					anchorName(a), decimals(a.Diameter, 2), decimals(best, 2)),
			})
		}
	}
	return nil
}
