package recognise

import (
	"strconv"
	"strings"

	"embedcheck/internal/element"
	"embedcheck/internal/model"
)

// metric matches a thread size in a plain text, with the length that often
// follows: "m20", "m20x450", "_m16", "m20 x 450".
var metric = newPattern(`(?:^|[^a-z0-9.])m ?(\d{1,2})(?:(?: ?[x*] ?)(\d{2,4}))?(?:$|[^0-9.])`)

// across matches a diameter: "d24", "dia 20", "o16" (ø).
var across = newPattern(`(?:^|[^a-z0-9.])(?:d|dia\.?|diam\.?|o|phi) ?=? ?(\d{1,3}(?:\.\d+)?)(?:(?: ?[x*] ?)(\d{2,4}))?(?:$|[^0-9.])`)

// inches matches a diameter in inches: 3/4", 1 1/4", 1-1/2 in.
var inches = newPattern(`(?:^|[^0-9/.])(?:(\d)[ -])?(\d{1,2})(?:/(\d{1,2}))? ?(?:"|''|in\b|inch)`)

// coarseThreads are the metric sizes that bolts and sockets come in (ISO 261,
// first and second choice).
var coarseThreads = map[int]bool{6: true, 8: true, 10: true, 12: true, 14: true, 16: true, 18: true, 20: true, 22: true, 24: true, 27: true, 30: true, 33: true, 36: true, 39: true, 42: true, 45: true, 48: true, 52: true, 56: true, 60: true, 64: true}

// sizeInText reads a diameter and a length in mm out of a plain text; 0 for what
// it does not say.
func sizeInText(s string) (diameter, length float64) {
	if m := metric.groups(s); m != nil {
		if d, _ := strconv.Atoi(m[1]); coarseThreads[d] {
			l, _ := strconv.ParseFloat(m[2], 64)
			return float64(d), l
		}
	}
	if m := across.groups(s); m != nil {
		if d, _ := strconv.ParseFloat(m[1], 64); d >= 5 && d <= 150 {
			l, _ := strconv.ParseFloat(m[2], 64)
			return d, l
		}
	}
	if m := inches.groups(s); m != nil {
		whole, _ := strconv.ParseFloat(m[1], 64)
		over, _ := strconv.ParseFloat(m[2], 64)
		under, _ := strconv.ParseFloat(m[3], 64)
		if m[3] == "" {
			under = 1
		}
		if d := whole + over/under; under > 0 && d > 0.2 && d <= 4 {
			return d * 25.4, 0
		}
	}
	return 0, 0
}

// lengthProperties name, in plain text, the properties that state a dimension.
// The first group are properties of the standard's own sets.
var lengthProperties = map[string]func(*model.Stated) *float64{
	"anchorboltdiameter":         func(s *model.Stated) *float64 { return &s.Diameter },
	"threaddiameter":             func(s *model.Stated) *float64 { return &s.Diameter },
	"fixingsocketthreaddiameter": func(s *model.Stated) *float64 { return &s.Diameter },
	"nominaldiameter":            func(s *model.Stated) *float64 { return &s.Diameter },
	"anchorboltlength":           func(s *model.Stated) *float64 { return &s.Length },
	"fixingsocketheight":         func(s *model.Stated) *float64 { return &s.Length },
	"nominallength":              func(s *model.Stated) *float64 { return &s.Length },
	"anchorboltprotrusionlength": func(s *model.Stated) *float64 { return &s.Projection },
	"anchorboltthreadlength":     func(s *model.Stated) *float64 { return &s.Thread },
	"threadlength":               func(s *model.Stated) *float64 { return &s.Thread },
	"fixingsocketthreadlength":   func(s *model.Stated) *float64 { return &s.Thread },

	"boltdiameter":    func(s *model.Stated) *float64 { return &s.Diameter },
	"diameter":        func(s *model.Stated) *float64 { return &s.Diameter },
	"embedment":       func(s *model.Stated) *float64 { return &s.Embedment },
	"embedmentdepth":  func(s *model.Stated) *float64 { return &s.Embedment },
	"embeddedlength":  func(s *model.Stated) *float64 { return &s.Embedment },
	"anchoragelength": func(s *model.Stated) *float64 { return &s.Embedment },
	"projection":      func(s *model.Stated) *float64 { return &s.Projection },
}

// textProperties name the properties that state a finish or a grade.
var textProperties = map[string]func(*model.Stated) *string{
	"corrosiontreatment": func(s *model.Stated) *string { return &s.Finish },
	"finish":             func(s *model.Stated) *string { return &s.Finish },
	"coating":            func(s *model.Stated) *string { return &s.Finish },
	"surfacetreatment":   func(s *model.Stated) *string { return &s.Finish },
	"grade":              func(s *model.Stated) *string { return &s.Grade },
	"steelgrade":         func(s *model.Stated) *string { return &s.Grade },
	"boltgrade":          func(s *model.Stated) *string { return &s.Grade },
	"strengthclass":      func(s *model.Stated) *string { return &s.Grade },
	"torque":             func(s *model.Stated) *string { return &s.Tightening },
	"tighteningtorque":   func(s *model.Stated) *string { return &s.Tightening },
	"installationtorque": func(s *model.Stated) *string { return &s.Tightening },
	"tightening":         func(s *model.Stated) *string { return &s.Tightening },
	"preload":            func(s *model.Stated) *string { return &s.Tightening },
	"pretension":         func(s *model.Stated) *string { return &s.Tightening },
}

// unspaced takes out what programs put between the words of a name.
var unspaced = strings.NewReplacer(" ", "", "_", "", "-", "")

// saysNothing are the enumerators of the standard for what is not known, in plain
// text.
var saysNothing = map[string]bool{"notdefined": true, "notknown": true, "unset": true}

// finishWords and gradeWords read a name such as "L-bolt M20x450 8.8 HDG".
var (
	finishWords = newPattern(`hot[- ]?dip[a-z -]*|\bhdg\b|galvani[sz]ed|\bgalv\b|stainless|\binox\b|\ba[24]-[78]0\b|zinc[- ]plated|electro[- ]?plated|\bself[- ]colou?r|verzinkt|thermisch verzinkt|epoxy[- ]coated`)
	torqueWords = newPattern(`\btorqued? ?(to|of|:|=)? ?\d[\d.]*|\b\d[\d.]* ?n[. ]?m\b|\b\d[\d.]* ?(ft[- .]?lbf?|lbf?[- .]?ft)\b|\b(preload|pretension)(ed)?[a-z =:]* \d[\d.]* ?kn\b|\bsnug[- ]tight\b|\bturn[- ]of[- ](the[- ])?nut\b`)
	gradeWords  = newPattern(`\b(4\.6|5\.6|5\.8|6\.8|8\.8|10\.9)\b|\bs(235|275|355)[a-z0-9]*\b|\bf1554[- ]?(gr(ade)?\.? ?)?(36|55|105)\b|\bgr(ade)?\.? ?(36|55|105|250|300|350)\b|\ba[24]-[578]0\b|\ba307\b|\ba36\b`)
)

// stated collects what the model says in words about an element: in its own
// attributes, then in properties, then in names.
func stated(e *elem) model.Stated {
	s := model.Stated{From: map[string]string{}}
	note := func(field *float64, value float64, name, from string) {
		if *field == 0 && value > 0 {
			*field = value
			s.From[name] = from
		}
	}
	for _, a := range []struct{ attr, key string }{{"NominalDiameter", "diameter"}, {"NominalLength", "length"}} {
		field := lengthProperties["nominal"+a.key](&s)
		if v, ok := e.Inst.Attr(a.attr).Float(); ok {
			note(field, v*e.Model.Units.Length, a.key, e.Class+"."+a.attr)
		}
		if e.Type != nil {
			if v, ok := e.Type.Inst.Attr(a.attr).Float(); ok {
				note(field, v*e.Model.Units.Length, a.key, e.Type.Inst.Name()+"."+a.attr)
			}
		}
	}
	e.Properties(func(p element.Property) bool {
		key := unspaced.Replace(plain(p.Name))
		if field, ok := lengthProperties[key]; ok && p.IsNumber {
			v := p.Number
			if !p.IsLength { // an untyped number: in the model's unit, as lengths are
				v *= e.Model.Units.Length
			}
			note(field(&s), v, fieldName(key), p.Set+"."+p.Name)
		}
		if field, ok := textProperties[key]; ok && p.Text != "" && !saysNothing[plain(p.Text)] {
			if f := field(&s); *f == "" {
				*f = p.Text
				s.From[fieldName(key)] = p.Set + "." + p.Name
			}
		}
		return true
	})
	for _, t := range e.texts {
		w := readText(t.plain)
		note(&s.Diameter, w.diameter, "diameter", t.what)
		note(&s.Length, w.length, "length", t.what)
		if w.finish != "" && s.Finish == "" {
			s.Finish, s.From["finish"] = w.finish, t.what
		}
		if w.grade != "" && s.Grade == "" {
			s.Grade, s.From["grade"] = w.grade, t.what
		}
		if w.torque != "" && s.Tightening == "" {
			s.Tightening, s.From["tightening"] = w.torque, t.what
		}
	}
	return s
}

// wording is what a text states.
type wording struct {
	diameter, length      float64 // mm
	finish, grade, torque string
}

// readText reads a plain text.
func readText(s string) wording {
	w := wording{finish: finishWords.find(s), torque: torqueWords.find(s)}
	if strings.ContainsAny(s, "0123456789") { // else it states neither size nor grade
		w.diameter, w.length = sizeInText(s)
		w.grade = strings.ToUpper(gradeWords.find(s))
	}
	return w
}

// fieldName is the name under which Stated.From keeps where a value was said.
func fieldName(key string) string {
	for _, n := range []string{"diameter", "embed", "anchorage", "protrusion", "projection", "thread", "length", "height", "corrosion", "finish", "coating", "treatment", "torque", "tightening", "preload", "pretension"} {
		if strings.Contains(key, n) {
			switch n {
			case "embed", "anchorage":
				return "embedment"
			case "protrusion":
				return "projection"
			case "height":
				return "length"
			case "corrosion", "coating", "treatment":
				return "finish"
			case "torque", "preload", "pretension":
				return "tightening"
			}
			return n
		}
	}
	return "grade"
}
