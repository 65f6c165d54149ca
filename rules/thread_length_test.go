package rules

import (
	"testing"

	"embedcheck/internal/model"
)

// threaded is an M20 bolt that stands out 100 mm, with a thread of a length that
// the model states, and with what else build adds.
func threaded(length float64, build func(s *scene, it *model.Item)) func(*scene) {
	return func(s *scene) {
		c := standing("A", 1000, 1000, 100)
		c.stated = model.Stated{Thread: length, From: map[string]string{"thread": "Pset_Bolt.ThreadLength"}}
		it := s.add(s.wall("W"), c)
		if build != nil {
			build(s, it)
		}
	}
}

func nuts(at ...float64) func(*scene, *model.Item) {
	return func(_ *scene, it *model.Item) {
		for _, from := range at {
			it.Anchors[0].Parts = append(it.Anchors[0].Parts, model.Part{Kind: model.Nut, From: from, To: from + 18, Size: 34.6})
		}
	}
}

func TestThreadLength(t *testing.T) {
	plate := func(s *scene, it *model.Item) { s.over("Base plate", 900, 900, 1100, 1100, 30, 20, it) }
	levelling := stating(Given{"grout": mm(40), "plate": mm(20), "levelling_nuts": count(1)})
	checkAll(t, ThreadLength, []sceneCase{
		{"nothing on it", Builtin(), threaded(10, nil), nil},
		{"no thread told", Builtin(), threaded(0, nuts(20)), nil},
		// seat 20 + 18 = 38, pitch 2.5
		{"one pitch below the nut", Builtin(), threaded(40.5, nuts(20)), nil},
		{"less", Builtin(), threaded(40.4, nuts(20)), []float64{2.4}},
		{"the lower of two nuts", Builtin(), threaded(60, nuts(20, 50)), []float64{-8}},
		{"the nut at the embedded end is none of them", Builtin(), threaded(60, nuts(20, 247)), nil},
		{"a washer is no nut", Builtin(), threaded(30, func(_ *scene, it *model.Item) {
			it.Anchors[0].Parts = []model.Part{{Kind: model.Washer, From: 50, To: 53, Size: 37}}
		}), nil},
		// 30 + 20 + 3 = 53 above the face, 47 from the end
		{"base plate", Builtin(), threaded(49.5, plate), nil},
		{"base plate, short", Builtin(), threaded(49.4, plate), []float64{2.4}},
		// 40 - 18 - 3 = 19 above the face, 81 from the end
		{"levelling nut", levelling, threaded(83.5, nil), nil},
		{"levelling nut, short", levelling, threaded(80, nil), []float64{-1}},
		{"levelling nut at no stated height", stating(Given{"plate": mm(20), "levelling_nuts": count(1)}), threaded(10, nil), nil},
		{"nuts at no stated height", stating(Given{"nuts": count(2)}), threaded(10, nil), nil},
		{"modelled thread", Builtin(), func(s *scene) {
			threaded(0, nuts(20))(s)
			s.m.Items[0].Anchors[0].Thread = 40
		}, []float64{2}},
		{"limit of the rule file", limitFor(ThreadLength, Term{MM, 13}), threaded(50, nuts(20)), []float64{12}},
	})
	for _, c := range []struct {
		set   *Set
		build func(*scene)
		want  string
	}{
		{Builtin(), threaded(30, nuts(20)), "the thread of A, 30 mm long (stated in Pset_Bolt.ThreadLength), ends 8 mm above the seat of its lowest nut; 2.5 mm below it needed (1 thread pitch of 2.5 mm)."},
		{Builtin(), threaded(48, plate), "the thread of A, 48 mm long (stated in Pset_Bolt.ThreadLength), ends 1 mm below the seat of the nut on Base plate; 2.5 mm below it needed (1 thread pitch of 2.5 mm)."},
		{levelling, threaded(80, nil), "the thread of A, 80 mm long (stated in Pset_Bolt.ThreadLength), ends 1 mm above the seat of the levelling nut under the plate; 2.5 mm below it needed (1 thread pitch of 2.5 mm)."},
	} {
		if got := text(t, ThreadLength, c.set, c.build); got != c.want {
			t.Errorf("got %s", got)
		}
	}
}
