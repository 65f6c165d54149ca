package demo

// Fault is one mistake that was planted, or something that looks like one.
type Fault struct {
	Rule     string   // ID of the rule that tells it
	Host     string   // mark of the concrete element; "" for what lies in none
	Items    []string // marks of the items, one or more of which the rule names
	Anchors  int      // anchors of Items that do not meet the limit
	Bars     string   // mark of the bar, where one is involved
	Measured float64  // mm, as the terms define it; 0 where nothing is measured
	Limit    float64  // mm, the least value that the built-in limits ask for
	Most     float64  // mm, the greatest value, where the limit is one of those
	Why      string   // what happened
}

// Faults are the planted mistakes. Beside each measured value stands how it
// comes about; lengths are mm in the element's own axes.
var Faults = []Fault{
	{
		Rule: "edge-distance", Host: "PB-02", Items: []string{"HD-2"}, Anchors: 2,
		Measured: 70,  // pattern centre 330 from the old edge, 60 cut away: 270; lower bolts 200 below it: 270 - 200
		Limit:    120, // 6 x 20
		Why:      "The pump base became 60 mm narrower for a pipe run; its bolts stayed.",
	},
	{
		Rule: "edge-distance", Host: "WP-01", Items: []string{"F-1.1"}, Anchors: 1,
		Measured: 55, // opening edge now at x = 3600, ferrule at 3545; the edge was at 3760: 215 then
		Limit:    96, // 6 x 16
		Why:      "The pipe opening moved by 160 mm towards the ferrule.",
	},
	{
		Rule: "edge-distance", Host: "WP-05", Items: []string{"FS-8.2"}, Anchors: 1,
		Measured: 44, // panel 1500 high, ferrule at 1456
		Limit:    72, // 6 x 12
		Why:      "The ferrule was set out from the wrong edge.",
	},
	{
		Rule: "spacing", Host: "PS-02", Items: []string{"SB-2.2", "SB-2.3"}, Anchors: 2,
		Measured: 70,  // x = 660 and 730
		Limit:    120, // 6 x 20; less than 4 x 20 = 80 too
		Why:      "Two pipe supports were set out from the wrong centre.",
	},
	{
		Rule: "embedment-depth", Host: "BS-01", Items: []string{"LB-1.1", "LB-1.2"}, Anchors: 2,
		Measured: 45,  // 120 drawn, less 75 of packers under the template
		Limit:    240, // 12 x 20; less than 50, than 4 x 20 and than the 120 stated too
		Why:      "The template was left standing on its packers.",
	},
	{
		Rule: "projection", Host: "CF-02", Items: []string{"HD-6.1", "HD-6.2"}, Anchors: 2,
		Measured: 25, // 65 drawn, sunk by 40
		Limit:    65, // stated; 2 x 16 = 32 would be the least
		Why:      "The bolts were drawn 40 mm too deep: the nut does not grip.",
	},
	{
		Rule: "back-cover", Host: "RW-01", Items: []string{"RB-2.1", "RB-2.2"}, Anchors: 2,
		Measured: 10, // wall 300 - 2400/30 = 220 thick there; bolt 200 to its head and 10 of head: 220 - 210
		Limit:    20,
		Why:      "The bolt of the thick end was repeated where the panel has become thinner.",
	},
	{
		Rule: "through", Host: "RW-01", Items: []string{"RB-3.1"}, Anchors: 1,
		Measured: -6, // wall 300 - 2880/30 = 204 thick there: 204 - 210
		Limit:    0,
		Why:      "The same bolt near the top: it is longer than the panel is thick.",
	},
	{
		Rule: "reinforcement-clearance", Host: "RP-01", Items: []string{"LI-6.3"}, Anchors: 1, Bars: "RP-01-3",
		Measured: -13, // the axes cross: 0 - 7 - 6, shank of 14 and bar of 12
		Limit:    0,
		Why:      "The lifter was moved 100 mm away from the hatch, onto a line of bars.",
	},
	{
		Rule: "reinforcement-clearance", Host: "CF-01", Items: []string{"HD-3.2", "HD-3.4"}, Anchors: 2, Bars: "CF-01-TY",
		Measured: 8, // bolts at x = 950, bar at 978: 28 - 12 - 8
		Limit:    20,
		Why:      "A bar was moved off the column line and lies beside two bolts.",
	},
	{
		Rule: "hook-direction", Host: "PS-01", Items: []string{"SB-1.2"}, Anchors: 1,
		Measured: 14, // bolt 106 from the edge, hook to 100 - 8 = 92 from its axis
		Limit:    20,
		Why:      "The hook was turned to the near edge instead of away from it.",
	},
	{
		Rule: "plate-edge", Host: "CO-01", Items: []string{"CP-7"},
		Measured: -15, // corbel 300 long, plate of 250 centred 190 from the column: 190 + 125 = 315
		Limit:    0,
		Why:      "The plate was centred on the load and reaches beyond the corbel.",
	},
	{
		Rule: "lifter-balance", Host: "SF-01", Items: []string{"LS-10.1"},
		// Steps 49000 x 36 = 1764000 mm2 at 1446.67 along the flight, less the triangle below the soffit,
		// 1890 x 1181.25 / 2 = 1116281 at 1610: the rest is at 1165.18; sockets at 420 and 1540: middle 980
		Measured: 185.18,
		Most:     150,
		Why:      "The lifting sockets were set into the second and the sixth tread by eye; the flight is heavier at its upper end.",
	},
	{
		Rule: "size-mismatch", Host: "LA-01", Items: []string{"FB-9.2"}, Anchors: 1,
		Measured: 16, // the shape; name and property say 20
		Limit:    20,
		Why:      "The text was changed to M20, the shape was not.",
	},
	{
		Rule: "set-pattern", Host: "CF-01", Items: []string{"HD-3.1", "HD-3.2", "HD-3.3", "HD-3.4"}, Anchors: 4,
		Measured: -6, // holes at 280, bolts at 300: 10 off; (32 - 24) / 2 - 10
		Limit:    3,
		Why:      "The plate of the monorail post was drawn for bolts at 300 x 280.",
	},
	{
		Rule: "duplicate", Host: "WP-02", Items: []string{"F-2.3"},
		Why: "The ferrule was pasted in twice.",
	},
	{
		Rule: "unhosted", Items: []string{"F-4.2"},
		Why: "The east wall moved by 400 mm; this ferrule stayed behind, 305 mm from it.",
	},
}

// Traps look like mistakes and are none: the rule must not tell them.
var Traps = []Fault{
	{
		Rule: "edge-distance", Host: "PB-01", Items: []string{"HD-1.1", "HD-1.2"},
		Measured: 130, // 330 - 200
		Limit:    120,
		Why:      "Near the edge, but far enough.",
	},
	{
		Rule: "edge-distance", Host: "PS-01", Items: []string{"SB-1.1", "SB-1.2"},
		Measured: 106, Limit: 96,
		Why: "The axis of the bolt with the turned hook is far enough from the edge.",
	},
	{
		Rule: "edge-distance", Host: "WP-01", Items: []string{"F-1.6"},
		Measured: 1400, // to the lower edge of the panel; its own pocket ends 50 from the axis
		Limit:    96,
		Why:      "The ferrule stands in a pocket of its own, which is no edge.",
	},
	{
		Rule: "edge-distance", Host: "WP-01", Items: []string{"LI-1.1", "LI-1.2", "LI-1.3", "LI-1.4"},
		Measured: 90, // half of 180
		Limit:    50,
		Why:      "Lifting inserts in the upper edge of a panel are between two faces, in recesses of their own.",
	},
	{
		Rule: "edge-distance", Host: "WP-02", Items: []string{"CP-3"},
		Measured: 60, // centre at 200, half of the plate 140
		Limit:    50,
		Why:      "The plate's outline is near the end of the panel, but far enough.",
	},
	{
		Rule: "edge-distance", Host: "RP-01", Items: []string{"F-6.1", "F-6.2", "F-6.3", "F-6.4"},
		Measured: 100, Limit: 72,
		Why: "Ferrules of the hatch frame have to be near the hatch.",
	},
	{
		Rule: "edge-distance", Host: "RW-01", Items: []string{"LI-5.1", "LI-5.2", "LI-5.3", "LI-5.4"},
		Measured: 100, // half of the 200 that the panel is thick at its top
		Limit:    50,
		Why:      "Lifting inserts in the thin end of a tapered panel.",
	},
	{
		Rule: "back-cover", Host: "RW-01", Items: []string{"RB-1.1", "RB-1.2"},
		Measured: 35, // 300 - 1650/30 = 245; 245 - 210
		Limit:    20,
		Why:      "The same bolt where the tapered panel is thick enough.",
	},
	{
		Rule: "reinforcement-clearance", Host: "RP-01", Items: []string{"LI-6.1", "LI-6.2"},
		Measured: -13, // 0 - 7 - 6
		Limit:    0,
		Why:      "The tension bar goes through the insert's eye; both are parts of one assembly.",
	},
	{
		Rule: "reinforcement-clearance", Host: "PB-01", Items: []string{"HD-1.1", "HD-1.2"}, Bars: "PB-01-H",
		Measured: 48, // leg of the hairpin 64 from the axis: 64 - 6 - 10
		Limit:    20,
		Why:      "A hairpin lies round each bolt near the edge.",
	},
	{
		Rule: "item-clearance", Host: "WP-01", Items: []string{"LI-1.1", "RF-1"},
		Why: "A recess former sits on the head of its lifting insert.",
	},
	{
		Rule: "two-hosts", Host: "PB-01", Items: []string{"HD-1.1", "HD-1.2", "HD-1.3", "HD-1.4"},
		Measured: 0, // the base is 500 high, the bolts reach 280 into it
		Limit:    5,
		Why:      "The pump base stands on the slab, but its bolts end in the base.",
	},
	{
		Rule: "set-pattern", Host: "PS-01", Items: []string{"SB-1.1", "SB-1.2"},
		Measured: 4, // (24 - 16) / 2
		Limit:    3,
		Why:      "The holes of the pipe saddle are wider than its bolts by what setting out needs.",
	},
	{
		Rule: "projection", Host: "CF-01", Items: []string{"HD-3.1", "HD-3.2", "HD-3.3", "HD-3.4"},
		Measured: 130,
		Limit:    93.5, // gap 40, plate 25, washer 4, nut 21.5, one pitch 3
		Why:      "The bolts are long enough for what stands on them.",
	},
}
