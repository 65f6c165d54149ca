package recognise

import "testing"

func TestTighteningInTexts(t *testing.T) {
	for text, want := range map[string]string{
		"Hold-down bolt M24 torque 200 Nm":           "torque 200",
		"M24x450 8.8, 200 N.m":                       "200 n.m",
		"rod 1 in, 150 ft-lb":                        "150 ft-lb",
		"M30, preloaded to 280 kN":                   "preloaded to 280 kn",
		"snug-tight, then turn of nut":               "snug-tight",
		"post-tensioned hold-down M30":               "", // that it is tensioned, but not how much
		"torque to the engineer's instructions":      "",
		"Hold-down bolt M24x450 8.8 HDG":             "",
		"anchor nm-12":                               "",
		"bolt M20 for platform 3 north mezzanine 4 ": "",
	} {
		if got := torqueWords.find(plain(text)); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
	for key, want := range map[string]string{"tighteningtorque": "tightening", "preload": "tightening", "coating": "finish", "steelgrade": "grade", "threadlength": "thread"} {
		if got := fieldName(key); got != want {
			t.Errorf("%s: got %q, want %q", key, got, want)
		}
	}
}
