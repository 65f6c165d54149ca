package ifcread

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// valueOf reads one parameter.
func valueOf(t testing.TB, text string) Value {
	t.Helper()
	f := parse(t, head+"#1=IFCWALL("+text+");\n#2=IFCSLAB($);\n"+tail, Options{})
	i, _ := f.Get(1)
	return i.Arg(0)
}

func TestValue(t *testing.T) {
	type want struct {
		kind  Kind
		float any // number, or nil for none
		int   any
		bool  any
		str   any
		enum  string
		ref   ID
	}
	for text, w := range map[string]want{
		"$":                                {kind: Null},
		"":                                 {kind: Null},
		"*":                                {kind: Derived},
		"12":                               {kind: Int, float: 12., int: int64(12)},
		"-7":                               {kind: Int, float: -7., int: int64(-7)},
		"9223372036854775807":              {kind: Int, float: 9223372036854775807., int: int64(math.MaxInt64)},
		"9223372036854775808":              {kind: Int, float: 9223372036854775808.},
		"3.":                               {kind: Real, float: 3., int: int64(3)},
		"-3.5E2":                           {kind: Real, float: -350., int: int64(-350)},
		"0.5":                              {kind: Real, float: 0.5},
		".5":                               {kind: Real, float: 0.5},
		"1E400":                            {kind: Real},
		"12x":                              {kind: Bad},
		"1.#IND":                           {kind: Bad},
		"NaN":                              {kind: Bad},
		"'it''s'":                          {kind: String, str: "it's"},
		"''":                               {kind: String, str: ""},
		".ELEMENT.":                        {kind: Enum, enum: "ELEMENT"},
		".element.":                        {kind: Enum, enum: "ELEMENT"},
		".T.":                              {kind: Enum, enum: "T", bool: true},
		".f.":                              {kind: Enum, enum: "F", bool: false},
		".U.":                              {kind: Enum, enum: "U"},
		".":                                {kind: Bad},
		"#2":                               {kind: Ref, ref: 2},
		"#":                                {kind: Bad},
		"#2x":                              {kind: Ref},
		"(1.,2.)":                          {kind: List},
		"\"0FF\"":                          {kind: Binary},
		"IFCLABEL('x')":                    {kind: Typed, str: "x"},
		"IFCLENGTHMEASURE( 12.5 )":         {kind: Typed, float: 12.5},
		"IFCLENGTHMEASURE/*(*/(/*)*/12.)":  {kind: Typed, float: 12., int: int64(12)},
		"IFCBOOLEAN(.T.)":                  {kind: Typed, bool: true, enum: "T"},
		"IFCINTEGER(-4)":                   {kind: Typed, float: -4., int: int64(-4)},
		"IFCTEXT($)":                       {kind: Typed},
		"IFCLABEL()":                       {kind: Typed},
		"IFCA(IFCB(IFCC(IFCD(1.))))":       {kind: Typed, float: 1., int: int64(1)},
		"IFCA(IFCA(IFCA(IFCA(IFCA(1.)))))": {kind: Typed},
		"IFCLABEL('x')y(1)":                {kind: Typed},
		"IFCCOMPLEXNUMBER(1.,2.)":          {kind: Typed},
	} {
		t.Run(text, func(t *testing.T) {
			v := valueOf(t, text)
			got := want{kind: v.Kind(), enum: v.Enum()}
			if x, ok := v.Float(); ok {
				got.float = x
			}
			if x, ok := v.Int(); ok {
				got.int = x
			}
			if x, ok := v.Bool(); ok {
				got.bool = x
			}
			if x, ok := v.Str(); ok {
				got.str = x
			}
			got.ref, _ = v.Ref()
			if got != w {
				t.Errorf("got %+v, want %+v", got, w)
			}
			if isNull := w.kind == Null || w.kind == Derived; v.IsNull() != isNull {
				t.Errorf("IsNull is %v", v.IsNull())
			}
		})
	}
}

func TestZeroValues(t *testing.T) {
	var v Value
	var i Inst
	if v.Kind() != Null || !v.IsNull() || v.Raw() != nil || v.Len() != 0 || v.Enum() != "" {
		t.Error("a zero Value is not null")
	}
	if _, ok := v.Inst(); ok || len(v.Floats(nil)) != 0 || len(v.Ints(nil)) != 0 || len(v.Refs(nil)) != 0 {
		t.Error("a zero Value has members")
	}
	if _, _, ok := v.Typed(); ok {
		t.Error("a zero Value is typed")
	}
	if i.Valid() || i.ID() != 0 || i.Type() != 0 || i.Name() != "" || i.Is(TypeOf("IfcWall")) || !i.Attr("Name").IsNull() || len(i.Args(nil)) != 0 || !i.Arg(0).IsNull() {
		t.Error("a zero Inst is something")
	}
}

func TestTyped(t *testing.T) {
	name, inner, ok := valueOf(t, "IfcLineIndex((1,2))").Typed()
	if !ok || name != "IFCLINEINDEX" || !slices.Equal(inner.Ints(nil), []int64{1, 2}) {
		t.Errorf("%s %s %v", name, inner.Raw(), ok)
	}
	for _, text := range []string{"IFCLABEL", "IFCLABEL()", "IFCA(1.,2.)", "IFCA(1.)2(3.)", "12.", "$", "('x')"} {
		if name, inner, ok := valueOf(t, text).Typed(); ok {
			t.Errorf("%s is a typed value: %s %s", text, name, inner.Raw())
		}
	}
}

func TestNumberLists(t *testing.T) {
	nan := math.NaN()
	for text, want := range map[string][]float64{
		"((1.,2.),(3.,-4.5E1))":                         {1, 2, 3, -45},
		"(1.,$,3.)":                                     {1, nan, 3},
		"(1.,*,'2.,3.',#4,.T.,5.)":                      {1, nan, nan, nan, nan, 5},
		"(1.#IND,NaN,2.,1E999)":                         {nan, nan, 2, nan},
		"( 1. , 2.\n,\t3. )":                            {1, 2, 3},
		"(/*9.*/1./*9.*/,/*,*/2.)":                      {1, 2},
		"(IFCLENGTHMEASURE(1.),IFCLENGTHMEASURE ( 2.))": {1, 2},
		"IFCLINEINDEX((1,2))":                           {1, 2},
		"(1 2,3)":                                       {nan, 3},
		"()":                                            nil,
		"(())":                                          nil,
		"7.":                                            {7},
		"$":                                             nil,
		"'1.'":                                          nil,
		"#2":                                            nil,
		"IFCLABEL('a(1.,2.)')":                          nil,
		"('it''s 1.,(',2.)":                             {nan, 2},
	} {
		got := valueOf(t, text).Floats(nil)
		if !slices.EqualFunc(got, want, func(a, b float64) bool { return a == b || a != a && b != b }) {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
	}
	for text, want := range map[string][]int64{
		"((1,2),(3,-4))":         {1, 2, 3, -4},
		"(1,$,2.,3)":             {1, NoInt, NoInt, 3},
		"(9223372036854775808)":  {NoInt},
		"(-9223372036854775807)": {-9223372036854775807},
		"12":                     {12},
		"1.5":                    nil,
	} {
		if got := valueOf(t, text).Ints(nil); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
	}
}

func TestReferences(t *testing.T) {
	f := parse(t, head+"#1=IFCPOLYLINE((#2,#77,$,#1));\n#2=IFCCARTESIANPOINT((0.,0.));\n"+tail, Options{})
	i, _ := f.Get(1)
	list := i.Attr("Points")
	var ids []ID
	for _, r := range list.Refs(nil) {
		ids = append(ids, r.ID())
	}
	if !slices.Equal(ids, []ID{2, 1}) || list.Len() != 4 {
		t.Errorf("references %v of %d members", ids, list.Len())
	}
	for v := range list.All() {
		if id, _ := v.Ref(); id != 2 {
			t.Errorf("first member is #%d", id)
		}
		break
	}
}

// TestParameters splits parameters that mislead whoever only looks for commas.
func TestParameters(t *testing.T) {
	for text, want := range map[string][]string{
		"":                         nil,
		" ":                        nil,
		"$":                        {"$"},
		",":                        {"", ""},
		"$,":                       {"$", ""},
		"$ , /* a,b */ 1. ":        {"$", "1."},
		"'a,b',('c)',(1.,2.)),$":   {"'a,b'", "('c)',(1.,2.))", "$"},
		"'it''s, (',1.":            {"'it''s, ('", "1."},
		"'a /* b'/* c' */,'*/'":    {"'a /* b'", "'*/'"},
		"IFCLABEL ( 'x' ) ,1.":     {"IFCLABEL ( 'x' )", "1."},
		"\"0F\",1.":                {"\"0F\"", "1."},
		"a/b,c/":                   {"a/b", "c/"},
		"/**/,/**/":                {"", ""},
		"(1./*)*/,2.)/*,*/,3./**/": {"(1./*)*/,2.)", "3."},
	} {
		f := &File{data: []byte("(" + text + ")")}
		var got []string
		for p := f.list(0); p.next(); {
			got = append(got, string(p.value.Raw()))
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestDecodingDoesNotAllocate(t *testing.T) {
	f := parse(t, head+"#1=IFCWALL((1.5,-2.25,3.E5),#2,(#2,#1),.T.,12,IFCLENGTHMEASURE(4.),((1,2),(3,4)),'x',$);\n#2=IFCSLAB($);\n"+tail, Options{})
	i, _ := f.Get(1)
	args, floats, refs, ints := make([]Value, 0, 16), make([]float64, 0, 16), make([]Inst, 0, 16), make([]int64, 0, 16)
	wall, pos := TypeOf("IfcWall"), 0
	n := testing.AllocsPerRun(100, func() {
		args = i.Args(args[:0])
		floats = args[0].Floats(floats[:0])
		args[1].Inst()
		refs = args[2].Refs(refs[:0])
		args[3].Bool()
		args[4].Int()
		args[5].Float()
		ints = args[6].Ints(ints[:0])
		for v := range args[2].List {
			v.Ref()
		}
		for v := range args[0].All() {
			v.Float()
		}
		args[2].Len()
		i.Is(wall)
		i.ID()
		pos += f.Pos(wall, "Tag")
		i.Attr("Tag").IsNull()
		TypeOf("IfcWall")
		f.Get(2)
	})
	if n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func TestEveryNameReadsBack(t *testing.T) {
	var text string
	for id, name := range known().names[1:] {
		text += fmt.Sprintf("#%d=%s();\n", id+1, upperString([]byte(name)))
	}
	f := parse(t, head+text+tail, Options{})
	for id, name := range known().names[1:] {
		if i, ok := f.Get(ID(id + 1)); !ok || i.Name() != name || TypeOf(name) != i.Type() {
			t.Errorf("%s was read as %s", name, i.Name())
		}
	}
	if p := f.Problems(); len(p) > 0 {
		t.Error(p[0])
	}
}
