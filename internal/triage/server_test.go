package triage

import (
	"context"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"embedcheck/internal/decision"
)

func closing(i, seen int) string {
	return fmt.Sprintf(`{"act":"close","by":"N. N.","findings":[{"id":%q,"seen":%d}]}`, id(i), seen)
}

func TestOnlyThePageMayAct(t *testing.T) {
	d := open(t, folder(t, checked(2, "WP-1")))
	s := serve(t, d)
	other := func(url string) func(*http.Request) {
		return func(r *http.Request) { r.URL.Path = url }
	}
	header := func(k, v string) func(*http.Request) {
		return func(r *http.Request) {
			if r.Header.Del(k); v != "" {
				r.Header.Set(k, v)
			}
		}
	}
	host := func(name string) func(*http.Request) {
		return func(r *http.Request) { r.Host = name; r.Header.Set("Origin", "http://"+name) }
	}
	_, port, _ := net.SplitHostPort(s.listener.Addr().String())
	for _, c := range []struct {
		name, method, path, body string
		change                   func(*http.Request)
		want                     int
	}{
		{"the page", "GET", "", "", nil, 200},
		{"localhost", "GET", "", "", func(r *http.Request) { r.Host = "localhost:" + port }, 200},
		{"no token", "GET", "", "", other("/"), 404},
		{"wrong token", "GET", "", "", other("/aaaaaaaaaaaaaaaaaaaaaaaaaa/"), 404},
		{"part of the token", "GET", "", "", func(r *http.Request) { r.URL.Path = r.URL.Path[:10] + "/" }, 404},
		{"another file", "GET", "findings.json", "", nil, 404},
		{"a way out", "GET", "..%2f..%2fetc/passwd", "", nil, 404},
		{"name of somebody else", "GET", "", "", func(r *http.Request) { r.Host = "evil.example:" + port }, 403},
		{"another port", "GET", "", "", func(r *http.Request) { r.Host = "127.0.0.1:1" }, 403},
		{"read from another page", "GET", "state", "", header("Origin", "http://evil.example"), 403},
		{"act by GET", "GET", "act", "", nil, 405},
		{"state by POST", "POST", "state", "{}", nil, 405},
		{"act by PUT", "PUT", "act", closing(0, 0), header("Origin", strings.TrimSuffix(s.URL[:strings.LastIndex(s.URL[:len(s.URL)-1], "/")], "/")), 405},
		{"act without origin", "POST", "act", closing(0, 0), header("Origin", ""), 403},
		{"act of another page", "POST", "act", closing(0, 0), header("Origin", "http://evil.example"), 403},
		{"act of a page of a sandbox", "POST", "act", closing(0, 0), header("Origin", "null"), 403},
		{"act under another name", "POST", "act", closing(0, 0), host("evil.example:" + port), 403},
		{"act without token", "POST", "act", closing(0, 0), other("/act"), 404},
		{"act of a form", "POST", "act", closing(0, 0), header("Content-Type", "text/plain"), 415},
		{"too large", "POST", "act", `{"text":"` + strings.Repeat("a", maxBody) + `"}`, nil, 413},
	} {
		if got, body := call(t, s, c.method, c.path, c.body, c.change); got != c.want {
			t.Errorf("%s: %d %.80s, want %d", c.name, got, body, c.want)
		}
	}
	if _, err := os.Stat(d.Decisions); err == nil {
		t.Error("something was written")
	}
	if code, _ := call(t, s, "POST", "act", closing(0, 0), nil); code != 200 {
		t.Errorf("the page itself: %d", code)
	}
}

func TestActsThatAreNotTaken(t *testing.T) {
	d := open(t, folder(t, checked(2, "WP-1")))
	s := serve(t, d)
	one := fmt.Sprintf(`"findings":[{"id":%q,"seen":0}]`, id(0))
	long := strings.Repeat("a", maxText+1)
	for name, body := range map[string]string{
		"no JSON":          "act",
		"two acts":         closing(0, 0) + closing(1, 0),
		"unknown member":   `{"act":"close","by":"N","status":"open",` + one + `}`,
		"unknown act":      `{"act":"approve","by":"N",` + one + `}`,
		"no name":          `{"act":"close","by":"  ",` + one + `}`,
		"no reason":        `{"act":"accept","by":"N","text":" \n ",` + one + `}`,
		"empty comment":    `{"act":"comment","by":"N",` + one + `}`,
		"long text":        `{"act":"comment","by":"N","text":"` + long + `",` + one + `}`,
		"until of a close": `{"act":"close","by":"N","until":"2026-04-01",` + one + `}`,
		"no day":           `{"act":"accept","by":"N","text":"t","until":"soon",` + one + `}`,
		"no findings":      `{"act":"close","by":"N","findings":[]}`,
		"another finding":  closing(7, 0),
		"twice":            fmt.Sprintf(`{"act":"close","by":"N","findings":[{"id":%q,"seen":0},{"id":%q,"seen":0}]}`, id(0), id(0)),
	} {
		if code, text := call(t, s, "POST", "act", body, nil); code != 400 || strings.TrimSpace(text) == "" {
			t.Errorf("%s: %d %s", name, code, text)
		}
	}
	if _, err := os.Stat(d.Decisions); err == nil {
		t.Error("something was written")
	}
}

// Of two windows that act on the same finding one is told what the other did;
// nothing of the act that came too late is written.
func TestConflict(t *testing.T) {
	d := open(t, folder(t, checked(3, "WP-1")))
	s := serve(t, d)
	if code, text := call(t, s, "POST", "act", fmt.Sprintf(`{"act":"accept","by":"A. A.","text":"agreed","until":"2026-04-01","findings":[{"id":%q,"seen":0}]}`, id(1)), nil); code != 200 {
		t.Fatal(code, text)
	}
	before, _ := os.ReadFile(d.Decisions)
	code, text := call(t, s, "POST", "act", fmt.Sprintf(`{"act":"close","by":"B. B.","findings":[{"id":%q,"seen":0},{"id":%q,"seen":0}]}`, id(0), id(1)), nil)
	if code != http.StatusConflict {
		t.Fatalf("%d %s", code, text)
	}
	var answer struct {
		Conflicts []conflict
		State     state
	}
	if err := json.Unmarshal([]byte(text), &answer); err != nil {
		t.Fatal(err)
	}
	want := told{Date: "2026-03-03", By: "A. A.", What: "accepted until 2026-04-01", Text: "agreed"}
	if len(answer.Conflicts) != 1 || answer.Conflicts[0].ID != id(1) || len(answer.Conflicts[0].Entries) != 1 || answer.Conflicts[0].Entries[0] != want {
		t.Errorf("conflicts are %+v", answer.Conflicts)
	}
	if answer.State.Findings[id(1)].Status != "accepted" || answer.State.Findings[id(1)].Seen != 1 {
		t.Errorf("state is %+v", answer.State)
	}
	if after, _ := os.ReadFile(d.Decisions); string(after) != string(before) {
		t.Error("the act that came too late was written in part")
	}
	if code, _ := call(t, s, "POST", "act", closing(1, 1), nil); code != 200 {
		t.Errorf("deciding again: %d", code)
	}
}

// Two servers on one decisions file stand for two windows of two programs: every
// act that was answered with 200 is in the file, once.
func TestTwoWindowsAtOnceLoseNothing(t *testing.T) {
	const findings, tries = 6, 12
	dir := folder(t, checked(findings, "WP-1"))
	windows := []*Server{serve(t, open(t, dir)), serve(t, open(t, dir))}
	var mu sync.Mutex
	taken := map[string]int{}
	var wg sync.WaitGroup
	for w, s := range windows {
		wg.Go(func() {
			seen := make([]int, findings)
			for n := range tries {
				i := n % findings
				text := fmt.Sprintf("window %d try %d", w, n)
				body := fmt.Sprintf(`{"act":"comment","by":"N. N.","text":%q,"findings":[{"id":%q,"seen":%d}]}`, text, id(i), seen[i])
				code, answer := call(t, s, "POST", "act", body, nil)
				var st struct {
					state
					State *state
				}
				if err := json.Unmarshal([]byte(answer), &st); err != nil {
					t.Error(code, answer, err)
					return
				}
				now := &st.state
				if code == http.StatusOK {
					mu.Lock()
					taken[text]++
					mu.Unlock()
				} else if now = st.State; code != http.StatusConflict {
					t.Error(code, answer)
					return
				}
				for k := range findings {
					seen[k] = now.Findings[id(k)].Seen
				}
			}
		})
	}
	wg.Wait()
	l, err := decision.Read(filepath.Join(filepath.Dir(dir), "decisions.json"))
	if err != nil {
		t.Fatal(err)
	}
	if len(taken) == 0 || len(l.Entries) != len(taken) {
		t.Errorf("%d acts were taken, %d are in the file", len(taken), len(l.Entries))
	}
	for _, e := range l.Entries {
		if taken[e.Comment] != 1 {
			t.Errorf("%q stands in the file, taken %d times", e.Comment, taken[e.Comment])
		}
	}
}

func TestHostileTextsStayTexts(t *testing.T) {
	d := open(t, folder(t, checked(2, hostile)))
	s := serve(t, d)
	quoted, _ := json.Marshal(hostile)
	one := fmt.Sprintf(`"findings":[{"id":%q,"seen":0}]`, id(0))
	code, answer := call(t, s, "POST", "act", fmt.Sprintf(`{"act":"assign","by":%s,"to":%s,"text":%s,%s}`, quoted, quoted, quoted, one), nil)
	if code != 200 {
		t.Fatal(code, answer)
	}
	_, html := call(t, s, "GET", "", "", nil)
	raw, _ := os.ReadFile(d.Decisions)
	for name, text := range map[string]string{"page": html, "answer": answer, "decisions": string(raw)} {
		for _, bad := range []string{"\u202e", "\x1b"} {
			if strings.Contains(text, bad) {
				t.Errorf("%s holds %q as it is", name, bad)
			}
		}
	}
	if strings.Contains(html, "<img") || strings.Contains(answer, "<img") {
		t.Error("markup of a name or a comment stands as markup")
	}
}

func TestStateIsSentOnlyWhenItChanged(t *testing.T) {
	d := open(t, folder(t, checked(1, "WP-1")))
	s := serve(t, d)
	a, err := http.Get(s.URL + "state")
	if err != nil {
		t.Fatal(err)
	}
	a.Body.Close()
	with := func(r *http.Request) { r.Header.Set("If-None-Match", a.Header.Get("ETag")) }
	if code, _ := call(t, s, "GET", "state", "", with); code != http.StatusNotModified {
		t.Errorf("unchanged: %d", code)
	}
	call(t, s, "POST", "act", closing(0, 0), nil)
	if code, text := call(t, s, "GET", "state", "", with); code != 200 || !strings.Contains(text, `"closed"`) {
		t.Errorf("changed: %d %s", code, text)
	}
}

// A script that somebody put into report.html has no hash in the policy.
func TestPolicyIsNotThatOfTheFile(t *testing.T) {
	dir := folder(t, checked(1, "WP-1"))
	path := filepath.Join(dir, "report.html")
	data, _ := os.ReadFile(path)
	os.WriteFile(path, []byte(strings.Replace(string(data), "script-src ", "script-src 'unsafe-inline' ", 1)), 0o666)
	d := open(t, dir)
	if strings.Contains(d.page.Policy, "unsafe") || strings.Contains(string(d.page.HTML), "unsafe-inline") {
		t.Error("the policy of the file was taken over")
	}
}

func TestServeEndsWithItsContext(t *testing.T) {
	d := open(t, folder(t, checked(1, "WP-1")))
	s, err := Listen(d, "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	// A call whose body never comes must not hold the end up.
	slow, err := net.Dial("tcp", s.listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer slow.Close()
	fmt.Fprintf(slow, "POST %s HTTP/1.1\r\nHost: %s\r\nContent-Length: 10\r\n", s.URL, s.listener.Addr())
	cancel()
	if err := s.Serve(ctx); err != nil {
		t.Error(err)
	}
	if _, err := net.Dial("tcp", s.listener.Addr().String()); err == nil {
		t.Error("it still listens")
	}
}
