package demo

import (
	"bytes"
	"io"
	"runtime"
	"strings"
	"testing"

	ib "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/spfcheck"
)

func TestYardIsSound(t *testing.T) {
	for _, y := range []Yard{{Panels: 21, Schema: ib.IFC4}, {Panels: 3, Each: true, Schema: ib.IFC2X3, Unit: ib.Metre}} {
		var out bytes.Buffer
		sum, err := y.Write(&out)
		if err != nil {
			t.Fatal(err)
		}
		f, err := spfcheck.Parse(out.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		for _, err := range f.Sound() {
			t.Error(err)
		}
		count := map[string]int{}
		for _, i := range f.Insts {
			count[i.Keyword]++
		}
		if n := count["IFCWALL"]; n != y.Panels || sum.Panels != n {
			t.Errorf("%d walls, %d tallied, want %d", n, sum.Panels, y.Panels)
		}
		if n := count["IFCDISCRETEACCESSORY"]; n != sum.Items {
			t.Errorf("%d items, %d tallied", n, sum.Items)
		}
		bars := count["IFCREINFORCINGBAR"]
		if !y.Each { // mapped: plates have four mapped studs
			bars = count["IFCMAPPEDITEM"] - 4*2*y.Panels + sum.Findings["reinforcement-clearance"]
		}
		if bars != sum.Bars {
			t.Errorf("%d bars, %d tallied", bars, sum.Bars)
		}
		if sum.Bytes != int64(out.Len()) {
			t.Errorf("%d bytes, %d tallied", out.Len(), sum.Bytes)
		}
	}
}

// The panels of a mixed yard are sound text too, of many designs, and those of
// one design are written alike.
func TestMixedYardIsSound(t *testing.T) {
	for _, y := range []Yard{{Panels: 45, Mixed: true, Schema: ib.IFC4}, {Panels: 9, Mixed: true, Schema: ib.IFC2X3, Unit: ib.Metre}} {
		var out bytes.Buffer
		if _, err := y.Write(&out); err != nil {
			t.Fatal(err)
		}
		f, err := spfcheck.Parse(out.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		for _, err := range f.Sound() {
			t.Error(err)
		}
	}
	type kind struct {
		host          hostForm
		bars          barForm
		shared, holes bool
		step          float64
	}
	kinds, hosts, bars := map[kind]bool{}, map[hostForm]bool{}, map[barForm]bool{}
	for i := range 60 {
		d := newDesign(i)
		kinds[kind{d.host, d.bars, d.shared, len(d.mats.Holes) > 0, d.step}] = true
		hosts[d.host], bars[d.bars] = true, true
		if len(d.sockets) < 2 {
			t.Errorf("design %d has %d sockets, the faults need two", i, len(d.sockets))
		}
	}
	if len(kinds) < 30 || len(hosts) != countOfHost || len(bars) != countOfBars {
		t.Errorf("60 designs are of %d kinds, %d of %d bodies and %d of %d bars", len(kinds), len(hosts), countOfHost, len(bars), countOfBars)
	}
}

func TestYardReachesItsSize(t *testing.T) {
	var out bytes.Buffer
	sum, err := Yard{Size: 1 << 20, Schema: ib.IFC4}.Write(&out)
	if err != nil {
		t.Fatal(err)
	}
	if n := out.Len(); n < 1<<20 || n > 1<<20+200_000 {
		t.Errorf("%d bytes, want a little more than %d", n, 1<<20)
	}
	if strings.Count(out.String(), "=IFCWALL(") != sum.Panels {
		t.Error("the tally differs")
	}
}

// The heap must not grow with the model: 40 MB pass through, less than
// a tenth of that may stay.
func TestYardNeedsLittleMemory(t *testing.T) {
	for _, mixed := range []bool{false, true} {
		needsLittleMemory(t, mixed)
	}
}

func needsLittleMemory(t *testing.T, mixed bool) {
	t.Helper()
	heap := func() uint64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	before := heap()
	probe := &heapProbe{heap: heap, at: 39 << 20}
	if _, err := (Yard{Size: 40 << 20, Mixed: mixed, Schema: ib.IFC4}).Write(probe); err != nil {
		t.Fatal(err)
	}
	if probe.seen == 0 {
		t.Fatal("the probe was not reached")
	}
	grown := int64(probe.seen) - int64(before)
	t.Logf("heap grown by %d bytes", grown)
	if grown > 4<<20 {
		t.Errorf("the heap grew by %d bytes while 39 MB were written", grown)
	}
}

// heapProbe measures the heap once, when so many bytes have passed.
type heapProbe struct {
	heap func() uint64
	at   int64
	n    int64
	seen uint64
}

func (p *heapProbe) Write(b []byte) (int, error) {
	p.n += int64(len(b))
	if p.seen == 0 && p.n >= p.at {
		p.seen = p.heap()
	}
	return len(b), nil
}

func BenchmarkYard(b *testing.B) {
	var size int64
	for b.Loop() {
		sum, err := Yard{Panels: 100, Schema: ib.IFC4}.Write(io.Discard)
		if err != nil {
			b.Fatal(err)
		}
		size = sum.Bytes
	}
	b.SetBytes(size)
}
