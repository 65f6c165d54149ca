package rules

import "math"

// thread is the hardware of one size of bolt, mm.
type thread struct {
	d      float64 // nominal diameter
	pitch  float64
	flats  float64 // nut, width across flats
	nut    float64 // nut, greatest height
	washer float64 // washer under it, thickness
	inch   bool
}

// metricThreads are the coarse threads of ISO 261 with the nuts of ISO 4032 (both
// read in secondary copies that agree) and the plain washers of ISO 7089 (read in
// a secondary copy; M22, M27, M33 and from M39 on from memory).
var metricThreads = []thread{
	{8, 1.25, 13, 6.8, 1.6, false},
	{10, 1.5, 16, 8.4, 2, false},
	{12, 1.75, 18, 10.8, 2.5, false},
	{14, 2, 21, 12.8, 2.5, false},
	{16, 2, 24, 14.8, 3, false},
	{18, 2.5, 27, 15.8, 3, false},
	{20, 2.5, 30, 18, 3, false},
	{22, 2.5, 34, 19.4, 3, false},
	{24, 3, 36, 21.5, 4, false},
	{27, 3, 41, 23.8, 4, false},
	{30, 3.5, 46, 25.6, 4, false},
	{33, 3.5, 50, 28.7, 5, false},
	{36, 4, 55, 31, 5, false},
	{39, 4, 60, 33.4, 6, false},
	{42, 4.5, 65, 34, 8, false},
	{45, 4.5, 70, 36, 8, false},
	{48, 5, 75, 38, 8, false},
}

// inchThreads are the coarse threads of anchor rods (AISC Design Guide 1, Table
// 4-1, read in a secondary copy) with heavy hexagon nuts of ASME B18.2.2 (from
// memory; the widths agree with the bearing areas of the same guide) and, from 3/4
// inch on, the plate washers of its Table 2.3 (read in a secondary copy).
var inchThreads = []thread{
	inchThread(5./8, 11, 1+1./16, 39./64, 0.177),
	inchThread(3./4, 10, 1.25, 47./64, 1./4),
	inchThread(7./8, 9, 1+7./16, 55./64, 5./16),
	inchThread(1, 8, 1.625, 63./64, 3./8),
	inchThread(1.125, 7, 1+13./16, 1+7./64, 3./8),
	inchThread(1.25, 7, 2, 1+7./32, 1./2),
	inchThread(1.5, 6, 2.375, 1+15./32, 1./2),
	inchThread(1.75, 5, 2.75, 1+23./32, 5./8),
	inchThread(2, 4.5, 3.125, 1+31./32, 3./4),
	inchThread(2.5, 4, 3.875, 2+29./64, 7./8),
}

// inchThread turns inches and threads per inch into mm.
func inchThread(d, perInch, flats, nut, washer float64) thread {
	return thread{d * mmPerInch, mmPerInch / perInch, flats * mmPerInch, nut * mmPerInch, washer * mmPerInch, true}
}

// source says where the heights of nut and washer come from.
func (t thread) source() string {
	if t.inch {
		return "heavy hexagon nut ASME B18.2.2 (from memory), plate washer AISC Design Guide 1 Table 2.3 (read in a secondary copy)"
	}
	return "nut ISO 4032, washer ISO 7089 (read in secondary copies)"
}

// hardwareTol is by how much a shank may be modelled off its nominal diameter.
const hardwareTol = 0.6

// threadOf is the hardware for a diameter; false when no series has it. Metric
// comes first of two that are equally near.
func threadOf(d float64) (thread, bool) {
	best, off := thread{}, hardwareTol
	for _, list := range [2][]thread{metricThreads, inchThreads} {
		for _, t := range list {
			if o := math.Abs(t.d - d); o < off-placeNoise {
				best, off = t, o
			}
		}
	}
	return best, off < hardwareTol
}
