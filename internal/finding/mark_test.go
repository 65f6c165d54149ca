package finding

import "testing"

func TestMarksThatProgramsMadeUp(t *testing.T) {
	for _, c := range []struct {
		ref  Ref
		want string
	}{
		{Ref{Mark: "HB-1", Name: "Bolt"}, "HB-1"},
		{Ref{Mark: "12345", Name: "Bolt"}, "12345"},
		{Ref{Mark: "ID4c29a9e2-0000-003c-3132-373737393936", Name: "Bolt"}, "Bolt"},
		{Ref{Mark: "4C29A9E2-0000-003C-3132-373737393936", Name: "Bolt"}, "Bolt"},
		{Ref{Mark: "1204883"}, "1204883"},
		{Ref{Mark: "1204883", Name: "Bolt M20:1204883"}, "Bolt M20:1204883"},
		{Ref{Name: "Bolt"}, "Bolt"},
		{Ref{Class: "IfcBeam"}, "IfcBeam"},
	} {
		if got := c.ref.YardMark(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.ref, got, c.want)
		}
	}
}
