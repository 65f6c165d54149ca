package page

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"html/template"

	"embedcheck/internal/finding"
)

//go:embed web
var web embed.FS

var templates = template.Must(template.New("").Funcs(template.FuncMap{
	"plain": finding.Plain, "percent": percent, "day": func(s string) string { return s[:min(len(s), 10)] },
}).ParseFS(web, "web/*.html"))

// assets are the style sheet and the script of a page, and the policy that lets
// nothing else run.
type assets struct{ style, script string }

func newAssets(drawings string) assets {
	return assets{style: read("style.css") + read("space.css") + drawings, script: scriptOf(pageScripts...)}
}

// pageScripts are the parts of the page's script, in their order.
var pageScripts = []string{"script.js", "scene.js", "stage.js", "eye.js", "tags.js", "space.js"}

// scriptOf is one script of some files, in a scope of its own.
func scriptOf(names ...string) string {
	s := "'use strict';\n(() => {\n"
	for _, n := range names {
		s += read(n)
	}
	return s + "})();\n"
}

// read is an embedded file; there is none that is not.
func read(name string) string {
	data, err := web.ReadFile("web/" + name)
	if err != nil {
		panic(err)
	}
	return string(data)
}

// Style is the style element.
func (a assets) Style() template.HTML { return template.HTML("<style>" + a.style + "</style>") }

// Script is the script element.
func (a assets) Script() template.HTML { return template.HTML("<script>" + a.script + "</script>") }

// Policy is the content security policy of the page.
func (a assets) Policy() string {
	return "default-src 'none'; style-src " + hash(a.style) + "; script-src " + hash(a.script) +
		"; base-uri 'none'; form-action 'none'"
}

func hash(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
