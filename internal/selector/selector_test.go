package selector

import (
	"regexp"
	"testing"
)

func plate() *Subject {
	values := map[string]string{"Pset_Item.Finish": "galvanised", "Pset_Item.Note": ""}
	return &Subject{
		Kind: "plate", Class: "IfcBuildingElementProxy", Name: "WP-01", Mark: "P7", Type: "PL10", Material: "S275",
		HostName: "Wall 3", HostMark: "W-03",
		Property: func(n string) (string, bool) { v, ok := values[n]; return v, ok },
	}
}

func TestSelectorMatchesWhatItStates(t *testing.T) {
	rx := regexp.MustCompile
	for _, c := range []struct {
		name string
		sel  Selector
		want bool
	}{
		{"nothing stated", Selector{}, true},
		{"kind", Selector{Kinds: []string{"plate"}}, true},
		{"one of two kinds", Selector{Kinds: []string{"bolt", "plate"}}, true},
		{"other kind", Selector{Kinds: []string{"bolt"}}, false},
		{"class", Selector{Class: rx("(?i)^ifcbuildingelementproxy$")}, true},
		{"other class", Selector{Class: rx("IfcWall")}, false},
		{"name from its start", Selector{Name: rx("^WP-")}, true},
		{"name anywhere", Selector{Name: rx("P-0")}, true},
		{"other name", Selector{Name: rx("^P-")}, false},
		{"mark", Selector{Mark: rx("^P7$")}, true},
		{"other mark", Selector{Mark: rx("^P$")}, false},
		{"type", Selector{Type: rx("^PL")}, true},
		{"other type", Selector{Type: rx("^FL")}, false},
		{"material", Selector{Material: rx("S2")}, true},
		{"other material", Selector{Material: rx("1.4401")}, false},
		{"host by name", Selector{Host: rx("^Wall")}, true},
		{"host by mark", Selector{Host: rx("^W-03$")}, true},
		{"other host", Selector{Host: rx("^C-")}, false},
		{"property", Selector{Properties: []Property{{"Pset_Item.Finish", rx("^galv")}}}, true},
		{"property with another value", Selector{Properties: []Property{{"Pset_Item.Finish", rx("^zinc")}}}, false},
		{"empty property", Selector{Properties: []Property{{"Pset_Item.Note", rx("^$")}}}, true},
		{"missing property, empty pattern", Selector{Properties: []Property{{"Pset_Item.Grade", rx("")}}}, false},
		{"one property of two", Selector{Properties: []Property{{"Pset_Item.Finish", rx("")}, {"Pset_Item.Grade", rx("")}}}, false},
		{"all but one", Selector{Kinds: []string{"plate"}, Name: rx("^WP"), Host: rx("^C-")}, false},
	} {
		if got := c.sel.Match(plate()); got != c.want {
			t.Errorf("%s: got %v", c.name, got)
		}
	}
}

func TestSelectorWithoutHostOrProperties(t *testing.T) {
	s := &Subject{Name: "WP-01"}
	anything := regexp.MustCompile("")
	if (&Selector{Host: anything}).Match(s) {
		t.Error("a host pattern matched a subject without a host")
	}
	if (&Selector{Properties: []Property{{"Pset_Item.Finish", anything}}}).Match(s) {
		t.Error("a property matched a subject without properties")
	}
}

func TestChooseTakesTheLastMatch(t *testing.T) {
	list := []Override{
		{Match: Selector{Name: regexp.MustCompile("^WP")}, As: Item, Kind: "plate"},
		{Match: Selector{Name: regexp.MustCompile("01$")}, As: Ignore},
		{Match: Selector{Name: regexp.MustCompile("^X")}, As: Host},
	}
	if o := Choose(list, plate()); o != &list[1] {
		t.Errorf("got %+v", o)
	}
	if o := Choose(list, &Subject{Name: "B1"}); o != nil {
		t.Errorf("got %+v for a name that nothing matches", o)
	}
}

func TestAsNamesReadBack(t *testing.T) {
	for i, n := range AsNames() {
		if a, ok := ParseAs(n); !ok || a != As(i) || a.String() != n {
			t.Errorf("%s: got %v, %v", n, a, ok)
		}
	}
	if _, ok := ParseAs("Item"); ok {
		t.Error("a name in capitals was read")
	}
}
