package rules

import (
	"testing"

	"embedcheck/internal/model"
)

func TestTorqueStated(t *testing.T) {
	stating := func(kind model.Kind, text string) func(*scene) {
		return func(s *scene) {
			c := bolt("A", 1000, 1000)
			c.kind, c.stated.Tightening = kind, text
			s.add(s.wall("W"), c)
		}
	}
	on := &Set{Name: "test", Rules: map[string]Change{TorqueStated.ID: {Off: ptr(false)}}}
	some := &Set{Name: "test", For: []For{{Items: named("^A$"), Rules: map[string]Change{TorqueStated.ID: {Off: ptr(false)}}}}}
	for _, c := range []struct {
		name  string
		set   *Set
		build func(*scene)
		want  int
	}{
		{"off unless a rule file says so", Builtin(), stating(model.Bolt, ""), 0},
		{"on", on, stating(model.Bolt, ""), 1},
		{"on for some", some, stating(model.Bolt, ""), 1},
		{"stated", on, stating(model.Bolt, "200 Nm"), 0},
		{"a socket is not asked", on, stating(model.Socket, ""), 0},
	} {
		for where, at := range placements {
			s := newScene(at)
			c.build(s)
			if got := onlyWith(t, TorqueStated, s.m, c.set); len(got) != c.want {
				t.Errorf("%s, %s: %d findings, want %d", c.name, where, len(got), c.want)
			}
		}
	}
	if got := text(t, TorqueStated, on, stating(model.Bolt, "")); got != "the model does not state the tightening of A (M20)." {
		t.Errorf("got %s", got)
	}
}
