package ifcbuild

import (
	"fmt"
	"regexp"
	"strings"
)

// Words is an item given as instances in the clear text encoding, one a line,
// for forms that no other solid writes. Each is numbered within the text and may
// refer to those before it; the last one is the item. Lengths and angles are in
// the units of the file.
//
//	Words{Text: "#1=IFCCARTESIANPOINT((0.,0.,0.));\n#2=IFCAXIS2PLACEMENT3D(#1,$,$);\n#3=IFCSPHERE(#2,50.);", Type: "CSG"}
type Words struct {
	Text string
	Type string // RepresentationType
}

var (
	wordsLine = regexp.MustCompile(`^(#[0-9]+) *= *(\w+) *\((.*)\);$`)
	wordsRef  = regexp.MustCompile(`#[0-9]+`)
)

func (s Words) write(b *Builder) (uint64, form) {
	to := map[string]string{}
	var id uint64
	for text := range strings.Lines(s.Text) {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		m := wordsLine.FindStringSubmatch(text)
		if m == nil {
			panic(fmt.Sprintf("ifcbuild: %q is no instance", text))
		}
		attributes := wordsRef.ReplaceAllStringFunc(m[3], func(ref string) string {
			if n, ok := to[ref]; ok {
				return n
			}
			panic(fmt.Sprintf("ifcbuild: %s of %q stands nowhere before it", ref, text))
		})
		id = b.inst(strings.ToUpper(m[2]))
		b.line.raw(attributes)
		b.end()
		to[m[1]] = "#" + itoa(id)
	}
	return id, form(s.Type)
}
