package schedule

import (
	"math"

	"embedcheck/internal/model"
)

// barMass are nominal masses of round bars by diameter in mm, kg/m: 6 to 50 mm
// as in EN 10080 table 6, the others as in EN 10060; both from memory.
var barMass = map[float64]float64{
	6: 0.222, 8: 0.395, 10: 0.617, 12: 0.888, 14: 1.21, 16: 1.58, 20: 2.47, 25: 3.85, 28: 4.83, 32: 6.31, 40: 9.86, 50: 15.4,
	22: 2.98, 24: 3.55, 27: 4.49, 30: 5.55, 36: 7.99,
}

// barsByTable is the mass of the shanks of a unit's bolts by the table, kg: what
// the geometry can be held against. ok is false where there is no bolt, or one
// of a diameter that the table does not have.
func barsByTable(items []*model.Item) (kg float64, ok bool) {
	for _, it := range items {
		if it.Kind != model.Bolt {
			continue
		}
		for _, a := range it.Anchors {
			m, known := barMass[math.Round(a.Diameter*10)/10]
			if !known {
				return 0, false
			}
			long := anchorOf(a).developed
			if long == 0 {
				long = shankEnd(a)
			}
			kg += m * long / 1000
			ok = true
		}
	}
	return kg, ok
}
