package check_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"embedcheck/internal/check"
	"embedcheck/internal/finding"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/rules"
)

// expansion is a small model that comes to much more than it says.
type expansion struct {
	name string
	data string // instances from #1000 on, of which #1000 is the solid or representation item of a bolt
	says string // in the error, or in what was not checked; "": it is read
}

// expansions are shapes that use each other, or are used, again and again.
func expansions() []expansion {
	lines := func(n int, line func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(line(i) + "\n")
		}
		return b.String()
	}
	refs := func(n, from, step int) string {
		return strings.TrimSuffix(lines(n, func(i int) string { return fmt.Sprintf("#%d,", from+i*step) }), ",\n")
	}
	const unit = "#900=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#5,$,$);\n#901=IFCCARTESIANPOINT((0.,0.));\n#902=IFCCIRCLE(#903,40.);\n#903=IFCAXIS2PLACEMENT2D(#901,$);\n"
	rod := "#910=IFCCARTESIANPOINT((0.,0.,-50.));\n#911=IFCCARTESIANPOINT((0.,0.,300.));\n#912=IFCPOLYLINE((#910,#911));\n#913=IFCSWEPTDISKSOLID(#912,10.,$,$,$);\n"
	// Each of the maps holds the one before it twice.
	doubled := lines(24, func(i int) string {
		k, below := 2000+10*i, 2000+10*(i-1)
		items := "#913"
		if i > 0 {
			items = fmt.Sprintf("#%d,#%d", k+4, k+5)
		}
		return fmt.Sprintf("#%d=IFCSHAPEREPRESENTATION(#6,'Body','MappedRepresentation',(%s));\n#%d=IFCREPRESENTATIONMAP(#4,#%d);\n#%d=IFCMAPPEDITEM(#%d,#900);\n#%d=IFCMAPPEDITEM(#%d,#900);",
			k, items, k+1, k, k+4, below+1, k+5, below+1)
	})
	curves := lines(22, func(i int) string {
		k, below := 3000+10*i, 3000+10*(i-1)
		if i == 0 {
			return fmt.Sprintf("#%d=IFCTRIMMEDCURVE(#902,(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(6.2831853)),.T.,.PARAMETER.);", k)
		}
		return fmt.Sprintf("#%d=IFCCOMPOSITECURVE((#%d,#%d),.F.);\n#%d=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#%d);\n#%d=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#%d);", k, k+1, k+2, k+1, below, k+2, below)
	})
	circlePoints := lines(4000, func(i int) string {
		return fmt.Sprintf("#%d=IFCCARTESIANPOINT((%d.,%d.5));", 10000+i, min(i, 3999-i), (i/2000)*50+i%2)
	})
	wave := lines(4000, func(i int) string { return fmt.Sprintf("#%d=IFCCARTESIANPOINT((0.,%d.,%d.));", 20000+i, i%2, i) })
	return []expansion{
		{"maps in maps, twice each", unit + rod + doubled + "#1000=IFCMAPPEDITEM(#2231,#900);", "parts"},
		{"a thousand maps of a thousand", unit + rod + "#2000=IFCSHAPEREPRESENTATION(#6,'Body','MappedRepresentation',(" + strings.Repeat("#913,", 3000) + "#913));\n#2001=IFCREPRESENTATIONMAP(#4,#2000);\n" +
			lines(900, func(i int) string {
				return fmt.Sprintf("#%d=IFCMAPPEDITEM(#2001,#900);\n#%d=IFCSHAPEREPRESENTATION(#6,'Body','MappedRepresentation',(%s));\n#%d=IFCREPRESENTATIONMAP(#4,#%d);\n#%d=IFCMAPPEDITEM(#%d,#900);",
					5000+5*i, 5001+5*i, strings.Repeat(fmt.Sprintf("#%d,", 5000+5*i), 20)+fmt.Sprintf("#%d", 5000+5*i), 5002+5*i, 5001+5*i, 5003+5*i, 5002+5*i)
			}) + "#1000=IFCMAPPEDITEM(#5002,#900);\n@" + refs(900, 5003, 5), "more than"},
		{"curves in curves, twice each", unit + curves + "#1001=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#3210);\n#1000=IFCEXTRUDEDAREASOLID(#1001,#4,#3,100.);", "pieces"},
		{"a profile of thousands of corners along thousands of points", unit + circlePoints + wave +
			"#1001=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#1002);\n#1002=IFCPOLYLINE((" + refs(4000, 10000, 1) + ",#10000));\n#1003=IFCPOLYLINE((" + refs(4000, 20000, 1) + "));\n" +
			"#1000=IFCFIXEDREFERENCESWEPTAREASOLID(#1001,$,#1003,$,$,#990);\n#990=IFCDIRECTION((1.,0.,0.));", "points that one solid may have"},
	}
}

// model is a slab with a bolt of the solid #1000; where the data ends in "@" and
// references, a bolt of each of them as well.
func (e *expansion) model() string {
	b := ifc.New(ifc.IFC4, ifc.MM)
	b.Slab("SL", here, ifc.Block(ifc.V(-1000, -1000, 0), ifc.V(1000, 1000, 200))).Made("Concrete C32/40")
	text := string(b.Bytes())
	body := "#1=IFCCARTESIANPOINT((0.,0.,0.));\n#3=IFCDIRECTION((0.,0.,1.));\n#4=IFCAXIS2PLACEMENT3D(#1,$,$);\n#5=IFCCARTESIANPOINT((0.,0.,0.));\n#6=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,0.0001,#4,$);\n"
	data, more, _ := strings.Cut(e.data, "@")
	for i, item := range append([]string{"#1000"}, strings.Split(strings.ReplaceAll(more, "\n", ""), ",")...) {
		if item == "" {
			continue
		}
		k := 40000 + 10*i
		body += fmt.Sprintf("#%d=IFCSHAPEREPRESENTATION(#6,'Body','MappedRepresentation',(%s));\n#%d=IFCPRODUCTDEFINITIONSHAPE($,$,(#%d));\n#%d=IFCLOCALPLACEMENT($,#4);\n"+
			"#%d=IFCMECHANICALFASTENER('%022d',$,'Bolt M20',$,$,#%d,#%d,$,$,$,.ANCHORBOLT.);\n", k, item, k+1, k, k+2, k+3, i, k+2, k+1)
	}
	// The numbers of the slab's own instances are moved out of the way.
	text = referencing.ReplaceAllStringFunc(text, func(s string) string { return "#9" + strings.Repeat("0", 6) + s[1:] })
	return strings.Replace(text, "ENDSEC;\nEND-ISO", body+data+"\nENDSEC;\nEND-ISO", 1)
}

// TestSmallModelsStaySmall holds models that come to more than they say to a
// bound of memory, and to saying so.
func TestSmallModelsStaySmall(t *testing.T) {
	for _, e := range expansions() {
		t.Run(e.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "small.ifc")
			text := e.model()
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			var run *finding.Run
			var err error
			peak := peakOf(func() { _, run, err = check.Run([]string{path}, check.Options{Workers: 2, Rules: rules.Builtin()}) })
			t.Logf("%d kB of text, %d MB at most", len(text)>>10, peak>>20)
			if peak > 1500<<20+100*int64(len(text)) {
				t.Errorf("%d MB for %d kB of text", peak>>20, len(text)>>10)
			}
			said := ""
			switch {
			case errors.Is(err, check.ErrRead):
				said = err.Error()
			case err != nil:
				t.Fatal(err)
			default:
				for _, f := range run.Findings {
					if f.Rule == finding.NotChecked {
						said += f.Message + "\n"
					}
				}
			}
			if !strings.Contains(said, e.says) {
				t.Errorf("it says %.600q, want %q", said, e.says)
			}
		})
	}
}

// peakOf is the largest heap while do runs, sampled.
func peakOf(do func()) int64 {
	runtime.GC()
	done, most := make(chan struct{}), uint64(0)
	var wg sync.WaitGroup
	wg.Go(func() {
		var m runtime.MemStats
		for tick := time.NewTicker(20 * time.Millisecond); ; {
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapAlloc)
			select {
			case <-done:
				tick.Stop()
				return
			case <-tick.C:
			}
		}
	})
	do()
	close(done)
	wg.Wait()
	return int64(most)
}
