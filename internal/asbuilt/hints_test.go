package asbuilt

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"embedcheck/internal/report"
)

// A sheet that was taken to another form.
func TestTapedOnAnotherForm(t *testing.T) {
	p := plan(t, "")
	for _, c := range []struct{ name, rows, want string }{
		{"its own", "length,1502\nwidth,1199\n", ""},
		{"its own, roughly made", "length,1524\nwidth,1176\n", ""},
		{"another", "length,1600\nwidth,1601\n", "LIKELY another host: the form was not measured as that of PB-01 but as that of CF-01"},
		{"none", "length,1650\nwidth,1300\n", ""},
		{"one size alone", "length,1600\n", ""},
	} {
		data := "key,measured (mm)\n"
		for _, r := range strings.Fields(c.rows) {
			data += "PB-01/form/" + r + "\n"
		}
		r := compare(t, p, []byte(data))
		if got := strings.Join(r.Hints, "; "); (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: hints %q", c.name, r.Hints)
		}
	}
}

func TestTapeHints(t *testing.T) {
	p := plan(t, "")
	right := asModelled(p, "PB-01")
	number := func(key string) float64 {
		v, err := strconv.ParseFloat(right[key], 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	changed := func(f func(key string) string) map[string]string {
		out := map[string]string{}
		for k, v := range right {
			out[k] = v
			if n := f(k); n != "" {
				out[k] = n
			}
		}
		return out
	}
	times := func(factor float64) map[string]string {
		return changed(func(k string) string { return strconv.FormatFloat(number(k)*factor, 'f', 5, 64) })
	}
	from := func(keys map[string]string) map[string]string {
		return changed(func(k string) string { return right[keys[k]] })
	}
	for _, c := range []struct {
		name   string
		values map[string]string
		want   string
	}{
		{"as in the model", right, ""},
		{"inches", times(1 / 25.4), "LIKELY in another unit: the heading says millimetres, "},
		{"metres", times(1e-3), "right in metres"},
		{"all a little off", changed(func(k string) string { return strconv.FormatFloat(number(k)*1.01, 'f', 3, 64) }), ""},
		{"from the right", changed(func(k string) string {
			if strings.HasPrefix(k, "PB-01/HD-1/x ") {
				return strconv.FormatFloat(1500-number(k)+1, 'f', 1, 64)
			}
			return ""
		}), "LIKELY taped from the other side: 4 of 4 values x of PB-01 are right from the opposite side"},
		{"from above", changed(func(k string) string {
			if strings.HasPrefix(k, "PB-01/HD-1/y ") {
				return strconv.FormatFloat(1200-number(k)+1, 'f', 1, 64)
			}
			return ""
		}), "LIKELY taped from the other side: 4 of 4 values y of PB-01 are right from the opposite side"},
		{"x for y", from(map[string]string{"PB-01/HD-1/x 1": "PB-01/HD-1/y 1", "PB-01/HD-1/y 1": "PB-01/HD-1/x 1"}),
			"LIKELY exchanged rows: each holds the value of the other: PB-01/HD-1/"},
		{"two bolts", from(map[string]string{
			"PB-01/HD-1/x 1": "PB-01/HD-1/x 2", "PB-01/HD-1/x 2": "PB-01/HD-1/x 1",
		}), "LIKELY exchanged rows: each holds the value of the other: PB-01/HD-1/x"},
		{"one wrong value", changed(func(k string) string {
			if k == "PB-01/HD-1/x 1" {
				return "700"
			}
			return ""
		}), ""},
	} {
		r := compare(t, p, text(fill(t, p, c.values), ","))
		if c.want == "" {
			if len(r.Hints) != 0 {
				t.Errorf("%s: hints %q", c.name, r.Hints)
			}
			continue
		}
		if !slices.ContainsFunc(r.Hints, func(h string) bool { return strings.HasPrefix(h, "sheet1.csv: ") && strings.Contains(h, c.want) }) {
			t.Errorf("%s: hints %q", c.name, r.Hints)
		}
		if len(r.Hints) != 1 {
			t.Errorf("%s: more than one hint: %q", c.name, r.Hints)
		}
		if count(r, report.Outside) == 0 {
			t.Errorf("%s: corrected without a word", c.name)
		}
	}
}
