package rules

import (
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// finished is a socket with a finish in a wall with properties.
func finished(kind model.Kind, finish string, props map[string]string) func(*scene) {
	return func(s *scene) {
		w := s.wall("W")
		w.Property = func(name string) (string, bool) { v, ok := props[name]; return v, ok }
		c := bolt("A", 1000, 1000)
		c.kind, c.stated.Finish = kind, finish
		s.add(w, c)
	}
}

func TestFinishExposure(t *testing.T) {
	outside := map[string]string{"IsExternal": "true"}
	inside := map[string]string{"IsExternal": "false"}
	class := func(c string) map[string]string { return map[string]string{"ExposureClass": c} }
	for _, c := range []struct {
		kind   model.Kind
		finish string
		props  map[string]string
		want   []string
	}{
		{model.Socket, "zinc-plated", outside, []string{"A"}},
		{model.Socket, "Electroplated Zn 5 um", outside, []string{"A"}},
		{model.Socket, "NONE", outside, []string{"A"}},
		{model.Bolt, "black", class("XC4, XF1"), []string{"A"}},
		{model.Bolt, "Self-colour", map[string]string{"EnvironmentalClass": "XD2"}, []string{"A"}},
		{model.Plate, "plain steel", class("B1"), []string{"A"}},
		{model.Socket, "zinc-plated", nil, []string{"A"}},
		{model.Socket, "zinc-plated", class("to be agreed"), []string{"A"}},
		{model.Socket, "zinc-plated", inside, nil},
		{model.Socket, "zinc-plated", class("XC1"), nil},
		{model.Socket, "zinc-plated", class("A1"), nil},
		{model.Socket, "zinc-plated", map[string]string{"IsExternal": "false", "ExposureClass": "XC3"}, []string{"A"}},
		{model.Socket, "hot-dip galvanised", outside, nil},
		{model.Socket, "GALVANISED", outside, nil},
		{model.Socket, "stainless A4", outside, nil},
		{model.Socket, "black powder coating", outside, nil},
		{model.Socket, "", outside, nil},
		{model.Lifter, "zinc-plated", outside, nil},
	} {
		checkNames(t, FinishExposure, c.finish, c.want, finished(c.kind, c.finish, c.props))
	}
	f := onlyScene(t, FinishExposure, Builtin(), finished(model.Socket, "NONE", class("XC4")))
	if f.Message != "A is stated to be without a finish, which is for dry rooms; W is stated to be of exposure class XC4." || f.Priority != finding.Review {
		t.Errorf("got %s, %s", f.Priority, f.Message)
	}
	f = onlyScene(t, FinishExposure, Builtin(), finished(model.Socket, "zinc-plated", nil))
	if f.Message != "1 item is bare or zinc-plated, finishes for dry rooms, in concrete of which the models do not state whether it is outside." || f.Priority != finding.Note {
		t.Errorf("got %s, %s", f.Priority, f.Message)
	}
	if f.Source != "EN 1992-4 Annex B: electroplated zinc in dry rooms only (from memory, clause not re-read)" {
		t.Errorf("source %q", f.Source)
	}
	s := newScene(geom.Identity)
	c := bolt("A", 1000, 1000)
	c.stated.Finish = "zinc-plated"
	s.add(nil, c)
	if got := only(t, FinishExposure, s.m); got != nil {
		t.Errorf("in no concrete: got %v", got)
	}
}
