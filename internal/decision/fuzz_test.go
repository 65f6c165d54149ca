package decision

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"embedcheck/internal/bounded"
	"embedcheck/internal/finding"
)

// FuzzParse reads anything as a decisions file. What can be read is written so
// that it reads the same, one entry a line; the order of the lines means nothing,
// nor does a line that a merge brought twice; and any finding can be held against
// it.
func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"[{\"decisions\":1}\n]\n",
		"[{\"decisions\":1}\n" + `,{"finding":"6e32","n":1,"status":"accepted","reason":"agreed","by":"N. N.","date":"2026-03-03","until":"2026-06-30","rule":"spacing","host":"PB-02","set":"HD-2","measured":70,"required":120,"unit":"mm","relation":">=","places":2}` +
			"\n" + `,{"finding":"6e32","n":2,"comment":"asked the precaster","assigned":"B. B.","by":"N. N.","date":"2026-03-04"}` + "\n]\n",
		"[{\"decisions\":1}\n" + `,{"finding":"a","n":1,"status":"closed","date":"2026-03-03"}` + "\n" + `,{"finding":"a","n":1,"status":"open","date":"2026-03-03"}` + "\n]\n",
		"[{\"decisions\":1}\n" + `,{"finding":"a","n":-9,"assigned":"","date":"2024-02-29","measured":1e308,"required":-1e308,"relation":"<=","status":"accepted","reason":"\u2028<!--"}` + "\n]",
		"[{\"decisions\":1}\n<<<<<<< ours\n" + `,{"finding":"a","n":1,"status":"open","date":"2026-03-03"}` + "\n=======\n>>>>>>> theirs\n]\n",
		"[{\"decisions\":2}]", "[]", "{}", "", "[{\"decisions\":1},{}]", "[[[[[[[[",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		bounded.Work(t, len(data), bounded.Limit{Base: 4 << 20, PerByte: 2000}, func() { judge(t, data) })
	})
}

func judge(t *testing.T, data []byte) {
	l, err := parse(data)
	if err != nil {
		if l != nil || err.Error() == "" {
			t.Fatalf("log %v with error %q", l, err)
		}
		return
	}
	once := written(t, l)
	again, err := parse(once)
	if err != nil {
		t.Fatalf("%v, of what was written:\n%s", err, once)
	}
	if twice := written(t, again); !bytes.Equal(once, twice) {
		t.Fatalf("written again:\n%s\nwant\n%s", twice, once)
	}
	lines := strings.Split(strings.TrimSuffix(string(once), "\n"), "\n")
	if len(lines) != len(l.Entries)+2 {
		t.Fatalf("%d entries on the lines\n%s", len(l.Entries), once)
	}
	merged := lines[0]
	for i := len(lines) - 2; i > 0; i-- {
		merged += "\n" + lines[i] + "\n" + lines[i]
	}
	same, err := parse([]byte(merged + "\n]"))
	if err != nil || !reflect.DeepEqual(same.Entries, again.Entries) {
		t.Fatalf("%v, each line twice and backwards:\n%+v\nwant\n%+v", err, same, again)
	}
	run := &finding.Run{}
	for i := range again.Entries {
		run.Findings = append(run.Findings, finding.Finding{ID: again.Entries[i].Finding, Instances: []finding.Instance{{Measured: 70, Required: 120, Unit: "mm", Relation: finding.AtLeast}}})
	}
	again.Apply(run, "2026-05-05")
	for i := range run.Findings {
		if s := run.Findings[i].Status; s != Open && s != Accepted {
			t.Fatalf("a finding of this run is %q", s)
		}
	}
}

func written(t *testing.T, l *Log) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := l.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
