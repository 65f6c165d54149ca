package sheet

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Texts along a chain stay in order, keep their step, and do not move when there
// is room. Twin: pushing pairs apart until nothing is too near moves no less in
// all.
func TestSpread(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		st := make([]station, 1+rng.IntN(12))
		at := 0.0
		for i := range st {
			at += rng.Float64() * 8
			st[i].mm = at
		}
		got := spread(st, func(s *station) float64 { return s.mm }, 3.7)
		moved, twin := 0.0, pushed(st, 3.7)
		for i := range got {
			if i > 0 && got[i]-got[i-1] < 3.7-1e-9 {
				t.Fatalf("%v: step %v", got, got[i]-got[i-1])
			}
			moved += (got[i] - st[i].mm) * (got[i] - st[i].mm)
		}
		if moved > twin+1e-3 {
			t.Fatalf("moved by %v, the twin by %v", moved, twin)
		}
	}
}

// pushed is the squared movement of the slow way.
func pushed(st []station, step float64) float64 {
	x := make([]float64, len(st))
	for i := range st {
		x[i] = st[i].mm
	}
	for range 20000 {
		worst := 0.0
		for i := 1; i < len(x); i++ {
			if lack := step - (x[i] - x[i-1]); lack > 0 {
				x[i-1] -= lack / 2
				x[i] += lack / 2
				worst = max(worst, lack)
			}
		}
		if worst < 1e-9 {
			break
		}
	}
	sum := 0.0
	for i := range x {
		sum += (x[i] - st[i].mm) * (x[i] - st[i].mm)
	}
	return sum
}

func TestChainLeavesOutWhatHasNoRoom(t *testing.T) {
	c := &chain{}
	for i := range 100 {
		c.add(float64(i*10), "A")
	}
	c.fit(20 * chainStep)
	if len(c.stations) > 23 || !c.cut || c.stations[0].mm != 0 || c.stations[len(c.stations)-1].mm != 990 {
		t.Errorf("%d stations, from %v to %v", len(c.stations), c.stations[0].mm, c.stations[len(c.stations)-1].mm)
	}
	few := &chain{}
	few.add(5, "B")
	few.add(5.2, "C")
	few.add(0, "")
	few.fit(100)
	if few.cut || len(few.stations) != 2 || few.stations[1].text() != "5 B, C" {
		t.Errorf("%+v", few.stations)
	}
}

func TestMM(t *testing.T) {
	for v, want := range map[float64]string{0: "0", -0.2: "0", 4.3: "4.5", 9.8: "10", 12.4: "12", 12.5: "13", -60.2: "-60", math.Copysign(0, -1): "0"} {
		if got := mm(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
}

func TestGridOfDetails(t *testing.T) {
	for n, want := range map[int][2]int{1: {1, 1}, 2: {1, 2}, 3: {2, 2}, 4: {2, 2}, 9: {2, 2}} {
		if c, r := grid(n, 2, 2); [2]int{c, r} != want || c*r < min(n, 4) {
			t.Errorf("%d: %d x %d, want %v", n, c, r, want)
		}
	}
}
