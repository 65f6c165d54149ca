package ifcread

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestParseSchema(t *testing.T) {
	for name, want := range map[string]Schema{
		"IFC2X3": IFC2X3, "ifc2x3": IFC2X3, "IFC2X_FINAL": IFC2X3, "IFC2X2_FINAL": IFC2X3, "IFC2X3_TC1": IFC2X3,
		"IFC4": IFC4, "IFC4_ADD2": IFC4, "IFC4_ADD2_TC1": IFC4, "IFC4x1": IFC4, "IFC4X2": IFC4,
		"IFC4X3": IFC4X3, "IFC4x3_RC1": IFC4X3, "IFC4X3_ADD1": IFC4X3, "IFC4X3_ADD2": IFC4X3, " IFC4X3_TC1 ": IFC4X3,
	} {
		if got, ok := parseSchema(name); !ok || got != want {
			t.Errorf("%q is %v %v, want %v", name, got, ok, want)
		}
	}
	for _, name := range []string{"", "IFC", "IFC2", "IFC5", "IFC4X4", "IFC40", "AP214", "XIFC4"} {
		if got, ok := parseSchema(name); ok {
			t.Errorf("%q is %v", name, got)
		}
	}
}

func TestTypes(t *testing.T) {
	wall := TypeOf("IFCWALL")
	if wall == 0 || wall != TypeOf("IfcWall") || wall != TypeOf("ifcwall") || wall.String() != "IfcWall" {
		t.Errorf("IfcWall is %d %s", wall, wall)
	}
	for _, name := range []string{"", "Wall", "IfcWal", "IfcWalls", "IfcLabel", strings.Repeat("Ifc", 100)} {
		if ty := TypeOf(name); ty != 0 {
			t.Errorf("%q is %s", name, ty)
		}
	}
	if s := Type(60000).String(); s != "" {
		t.Errorf("a type that is none is %q", s)
	}
}

func TestSubtypes(t *testing.T) {
	for _, c := range []struct {
		schema, entity, super string
		want                  bool
	}{
		{"IFC4", "IfcWall", "IfcWall", true},
		{"IFC4", "IfcWall", "IfcBuildingElement", true},
		{"IFC4", "IfcWall", "IfcRoot", true},
		{"IFC4", "IfcRoot", "IfcWall", false},
		{"IFC4", "IfcWall", "IfcSlab", false},
		{"IFC4", "IfcWall", "IfcBuiltElement", false},
		{"IFC4X3", "IfcWall", "IfcBuiltElement", true},
		{"IFC4X3", "IfcWall", "IfcBuildingElement", false},
		{"IFC2X3", "IfcReinforcingBar", "IfcBuildingElementComponent", true},
		{"IFC4", "IfcReinforcingBar", "IfcElementComponent", true},
		{"IFC2X3", "IfcCartesianPointList3D", "IfcGeometricRepresentationItem", true}, // looked up in IFC4X3
		{"IFC4", "IfcBridge", "IfcSpatialElement", true},
	} {
		f := parse(t, strings.Replace(head, "IFC4", c.schema, 1)+"#1="+strings.ToUpper(c.entity)+"($);\n"+tail, Options{})
		i, _ := f.Get(1)
		if got := i.Is(TypeOf(c.super)); got != c.want {
			t.Errorf("%s: %s below %s is %v", c.schema, c.entity, c.super, got)
		}
		if got := len(f.Of(TypeOf(c.super))) == 1; got != c.want {
			t.Errorf("%s: %s among those below %s is %v", c.schema, c.entity, c.super, got)
		}
	}
}

// Positions shift between editions under one name: IfcBuildingElementProxy has
// CompositionType in IFC2X3 where PredefinedType is from IFC4 on.
func TestAttributesBySchema(t *testing.T) {
	for _, c := range []struct{ schema, attr, want string }{
		{"IFC2X3", "CompositionType", ".ELEMENT."}, {"IFC2X3", "PredefinedType", ""},
		{"IFC4", "PredefinedType", ".ELEMENT."}, {"IFC4", "CompositionType", ""},
		{"IFC4X3_ADD2", "Tag", "'tag'"}, {"ifc4x1", "Name", "'n'"}, {"IFC4", "name", ""},
	} {
		f := parse(t, strings.Replace(head, "IFC4", c.schema, 1)+"#1=IFCBUILDINGELEMENTPROXY('g',$,'n',$,$,$,$,'tag',.ELEMENT.);\n"+tail, Options{})
		i, _ := f.Get(1)
		if got := string(i.Attr(c.attr).Raw()); got != c.want {
			t.Errorf("%s %s: %q, want %q", c.schema, c.attr, got, c.want)
		}
	}
}

func TestOfInTheOrderOfTheFile(t *testing.T) {
	f := parse(t, head+"#9=IFCWALL('a');\n#8=IFCCARTESIANPOINT((0.,0.));\n#7=IFCSLAB('b');\n#6=IFCWALLSTANDARDCASE('c');\n#5=IFCPOLYLINE(());\n#4=IFCDIRECTION((1.,0.));\n"+tail, Options{})
	for name, want := range map[string]string{
		"IfcWall":                        "[9 6]",
		"IfcProduct":                     "[9 7 6]",
		"IfcGeometricRepresentationItem": "[8 5 4]",
		"IfcCartesianPoint":              "[8]",
		"IfcDoor":                        "[]",
		"IfcNothing":                     "[]",
	} {
		ids := []ID{}
		for _, i := range f.Of(TypeOf(name)) {
			ids = append(ids, i.ID())
		}
		if got := fmt.Sprint(ids); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}

// TestKeywordsAreWhole changes each letter of each keyword: a scanner that has
// just met the keyword must not take the changed one for it.
func TestKeywordsAreWhole(t *testing.T) {
	e := known()
	for typ, name := range e.names[1:] {
		word := upperString([]byte(name)) + "((" + strings.Repeat("1", 64)
		for at := range len(name) {
			changed := []byte(word)
			changed[at]++
			s := newScanner(append([]byte(word), changed...))
			if got, n := s.keyword(0); got != Type(typ+1) || n != len(name) {
				t.Fatalf("%s is %s", name, got)
			}
			if got, _ := s.keyword(0); got != Type(typ+1) {
				t.Fatalf("%s is %s the second time", name, got)
			}
			if got, _ := s.keyword(len(word)); got != 0 && got != TypeOf(string(changed[:len(name)])) {
				t.Fatalf("%s is %s", changed[:len(name)], got)
			}
		}
	}
}

// TestTables compares the embedded tables with a list made from the EXPRESS
// schemas of IFC2X3 TC1, IFC4 ADD2 TC1 and IFC4X3 ADD2, where that lies beside
// the checkout; with -update it writes them.
func TestTables(t *testing.T) {
	path := filepath.Join("..", "..", "shared", "reference", "entities.tsv")
	if _, err := os.Stat(path); err != nil {
		t.Skip("the list of entities is not beside the checkout")
	}
	for schema, c := range map[string]struct{ file, text string }{
		"IFC2X3": {"ifc2x3.txt", textIFC2X3}, "IFC4": {"ifc4.txt", textIFC4}, "IFC4X3_ADD2": {"ifc4x3.txt", textIFC4X3},
	} {
		want := readEntities(t, path, schema).table()
		if *update {
			if err := os.WriteFile(filepath.Join("schema", c.file), []byte(want), 0o666); err != nil {
				t.Fatal(err)
			}
		} else if c.text != want {
			t.Errorf("schema/%s is not what the list says; run with -update and read the difference", c.file)
		}
	}
}

// entityList is the columns of the list for one schema.
type entityList struct {
	names []string
	below map[string][]string
	line  map[string]string

	entities map[string]bool
}

func readEntities(t *testing.T, path, schema string) entityList {
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	l := entityList{below: map[string][]string{}, line: map[string]string{}, entities: map[string]bool{}}
	rows := bufio.NewScanner(file)
	var all [][]string
	for rows.Scan() {
		c := strings.Split(rows.Text(), "\t") // schema, entity, abstract, supertype, index, attribute, optional, derived, type, declared in
		if c[0] == schema {
			all = append(all, c)
			l.entities[c[1]] = true
		}
	}
	for _, c := range all {
		name := c[1]
		if l.line[name] == "" {
			l.names = append(l.names, name)
			l.below[c[3]] = append(l.below[c[3]], name)
			l.line[name] = strings.TrimPrefix(name, "Ifc") + strings.Repeat("!", int(c[2][0]-'0'))
		}
		switch {
		case c[9] == name:
			l.line[name] += " " + c[5] + strings.Repeat("?", int(c[6][0]-'0')) + ":" + string(l.form(c[8]))
		case c[7] == "1":
			l.line[name] += " *" + c[5]
		}
	}
	return l
}

// aggregate is the beginning of a type that is a list, a set or an array.
var aggregate = regexp.MustCompile(`^(?:LIST|SET|ARRAY|BAG) \[(\d+):(\d+|\?)\] OF (?:UNIQUE )?`)

// form is that of a type as EXPRESS has it.
func (l entityList) form(express string) form {
	if m := aggregate.FindStringSubmatch(express); m != nil {
		size := ""
		if m[1] == m[2] {
			size = m[1]
		}
		return "(" + form(size) + l.form(express[len(m[0]):])
	}
	if l.entities[express] {
		return "@" + form(strings.TrimPrefix(express, "Ifc"))
	}
	name, _, _ := strings.Cut(express, "(") // BINARY(32)
	return formOf(name)
}

func (l entityList) table() string {
	var b strings.Builder
	var walk func(super string, depth int)
	walk = func(super string, depth int) {
		slices.Sort(l.below[super])
		for _, name := range l.below[super] {
			fmt.Fprintf(&b, "%s%s\n", strings.Repeat(" ", depth), l.line[name])
			walk(name, depth+1)
		}
	}
	walk("", 0)
	return b.String()
}

// TestAttributes compares all attributes of all entities with that list.
func TestAttributes(t *testing.T) {
	path := filepath.Join("..", "..", "shared", "reference", "entities.tsv")
	file, err := os.Open(path)
	if err != nil {
		t.Skip("the list of entities is not beside the checkout")
	}
	defer file.Close()
	files := map[string]*File{"IFC2X3": {schema: IFC2X3}, "IFC4": {schema: IFC4}, "IFC4X3_ADD2": {schema: IFC4X3}}
	n := 0
	for s := bufio.NewScanner(file); s.Scan(); {
		c := strings.Split(s.Text(), "\t")
		f := files[c[0]]
		if f == nil {
			continue
		}
		typ := TypeOf(c[1])
		if typ.String() != c[1] || c[3] != "" && !f.IsA(typ, TypeOf(c[3])) {
			t.Errorf("%s is %s", c[1], typ)
		}
		if c[4] == "-1" {
			if a := f.Attrs(typ); len(a) > 0 {
				t.Errorf("%s %s: attributes %v, want none", c[0], c[1], a)
			}
			continue
		}
		pos := f.Pos(typ, c[5])
		if fmt.Sprint(pos) != c[4] {
			t.Errorf("%s %s.%s: position %d, want %s", c[0], c[1], c[5], pos, c[4])
			continue
		}
		if a := f.Attrs(typ)[pos]; a.Optional != (c[6] == "1") || a.Derived != (c[7] == "1") {
			t.Errorf("%s %s: %+v, want optional %s, derived %s", c[0], c[1], a, c[6], c[7])
		}
		n++
	}
	if n < 15000 {
		t.Errorf("only %d attributes compared", n)
	}
}
