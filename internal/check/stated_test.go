package check_test

import (
	"testing"

	"embedcheck/internal/finding"
	ifc "embedcheck/internal/ifcbuild"
	"embedcheck/internal/ifcbuild/embed"
	"embedcheck/rules"
)

// wallBolt is a model of a wall with one bolt in its face, with what property sets
// say of the two, and the places that a rule finds in it.
func (s stack) wallBolt(t *testing.T, wall, bolt []ifc.PSet, set *rules.Set, rule string) []finding.Instance {
	t.Helper()
	b := ifc.New(s.schema, s.unit, s.option(), ifc.Degrees())
	b.Add(ifc.Element{
		Class: "IfcWall", Name: "W-1", At: here, Body: []ifc.Solid{ifc.Block(ifc.V(0, 0, 0), ifc.V(3000, 200, 2500))},
		Material: "Concrete C32/40", Props: wall,
	})
	embed.Bolt{D: 16, Depth: 120, Out: 60, End: embed.Headed, Form: s.form}.Add(b, ifc.Element{
		Class: "IfcMechanicalFastener", Predefined: "ANCHORBOLT", Name: "Bolt M16", Material: "Steel", Props: bolt,
		At: ifc.Facing(ifc.V(1500, 0, 1000), ifc.V(0, -1, 0), ifc.V(1, 0, 0)),
	})
	return placesIn(t, []string{writeModel(t, "wall.ifc", b.Bytes())}, set, rule)
}

// TestZincOutside reads finish and exposure from property sets, as each schema has
// them.
func TestZincOutside(t *testing.T) {
	for _, s := range stacks() {
		for _, c := range []struct {
			finish   string
			external bool
			want     int
		}{{"Zinc plated", true, 1}, {"Zinc plated", false, 0}, {"Hot-dip galvanised", true, 0}, {"NOTKNOWN", true, 0}} {
			wall := []ifc.PSet{{Name: "Pset_WallCommon", Props: []ifc.Prop{ifc.Boolean("IsExternal", c.external)}}}
			bolt := []ifc.PSet{{Name: "Pset_ElementComponentCommon", Props: []ifc.Prop{ifc.Label("CorrosionTreatment", c.finish)}}}
			if got := s.wallBolt(t, wall, bolt, rules.Builtin(), "finish-exposure"); len(got) != c.want {
				t.Errorf("%s, %s, external %v: %d found, want %d", s, c.finish, c.external, len(got), c.want)
			}
		}
	}
}

// TestTorqueAskedFor reads a torque from a property set, when a rule file asks for
// it.
func TestTorqueAskedFor(t *testing.T) {
	on := false
	asks := &rules.Set{Name: "test", Rules: map[string]rules.Change{"torque-stated": {Off: &on}}}
	told := []ifc.PSet{{Name: "Setting out", Props: []ifc.Prop{ifc.Label("Tightening torque", "200 Nm")}}}
	for _, s := range stacks() {
		for _, c := range []struct {
			set  *rules.Set
			bolt []ifc.PSet
			want int
		}{{asks, nil, 1}, {asks, told, 0}, {rules.Builtin(), nil, 0}} {
			if got := s.wallBolt(t, nil, c.bolt, c.set, "torque-stated"); len(got) != c.want {
				t.Errorf("%s: %d found, want %d", s, len(got), c.want)
			}
		}
	}
}
