package page

import (
	"bytes"
	"errors"
	"fmt"
	"html/template"
	"regexp"
	"slices"

	"embedcheck/internal/finding"
)

// Served is a page of a run as a triage serves it: the file that Write made, with
// controls to act by.
type Served struct {
	HTML   []byte
	Policy string           // content security policy, to be sent as a header
	FailOn finding.Priority // that the verdict goes by
	IDs    map[string]bool  // of the findings in it
}

// ErrOtherVersion says that a page is not one of this version of the program.
var ErrOtherVersion = errors.New("was not written by this version of embedcheck; check the models again")

var (
	policyRE = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="[^"]*">`)
	styleRE  = regexp.MustCompile(`(?s)<style>(.*?)</style>`)
	failRE   = regexp.MustCompile(`data-fail-on="([a-z]+)"`)
	idRE     = regexp.MustCompile(`<li class="row" data-i="\d+" data-id="([^"]*)"`)
)

// acting is what the template of the controls sees.
type acting struct{ By string }

// Serve puts controls into a page that Write made; by is the name that stands in
// them at first. Only the scripts of this program can run in it: their hashes
// are worked out here and not taken from the file.
func Serve(report []byte, by string) (*Served, error) {
	plain := []byte("<script>" + scriptOf(pageScripts...) + "</script>")
	style := styleRE.FindSubmatch(report)
	fail := failRE.FindSubmatch(report)
	main := []byte("\n</main>\n")
	if bytes.Count(report, plain) != 1 || bytes.Count(report, main) != 1 || style == nil || fail == nil || len(policyRE.FindAllIndex(report, -1)) != 1 {
		return nil, ErrOtherVersion
	}
	s := &Served{IDs: map[string]bool{}}
	var ok bool
	if s.FailOn, ok = finding.ParsePriority(string(fail[1])); !ok {
		return nil, ErrOtherVersion
	}
	for _, m := range idRE.FindAllSubmatch(report, -1) {
		s.IDs[string(m[1])] = true
	}
	var desk bytes.Buffer
	if err := templates.ExecuteTemplate(&desk, "acting.html", &acting{finding.Plain(by)}); err != nil {
		return nil, fmt.Errorf("controls of the page: %w", err)
	}
	script, own := scriptOf(slices.Concat(pageScripts, []string{"acting.js"})...), read("acting.css")
	s.Policy = "default-src 'none'; style-src " + hash(string(style[1])) + " " + hash(own) + "; script-src " + hash(script) +
		"; connect-src 'self'; base-uri 'none'; form-action 'none'"
	at := policyRE.FindIndex(report)
	html := bytes.Join([][]byte{report[:at[0]], report[at[1]:]}, []byte(`<meta http-equiv="Content-Security-Policy" content="`+template.HTMLEscapeString(s.Policy)+`">`))
	html = bytes.Replace(html, []byte("</head>"), []byte("<style>"+own+"</style>\n</head>"), 1)
	html = bytes.Replace(html, main, append(desk.Bytes(), main...), 1)
	s.HTML = bytes.Replace(html, plain, []byte("<script>"+script+"</script>"), 1)
	return s, nil
}
