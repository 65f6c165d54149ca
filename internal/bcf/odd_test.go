package bcf

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"embedcheck/internal/geom"
)

// packed is a zip of the given files, in order of their names.
func packed(files map[string]string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range slices.Sorted(func(yield func(string) bool) {
		for n := range files {
			if !yield(n) {
				return
			}
		}
	}) {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write([]byte(files[name]))
		}
		if err != nil {
			panic(err)
		}
	}
	z.Close()
	return b.Bytes()
}

const (
	guidA     = "11111111-2222-4333-8444-555555555555"
	markupXML = `<Markup><Topic Guid="` + guidA + `"><Title>T</Title><CreationDate>2026-01-01T00:00:00Z</CreationDate><CreationAuthor>a</CreationAuthor></Topic></Markup>`
	markup30  = `<Markup><Topic Guid="` + guidA + `" TopicType="x" TopicStatus="y"><Title>T</Title><Comments><Comment Guid="` + guidA + `"><Comment>said</Comment></Comment></Comments></Topic></Markup>`
	version21 = `<Version VersionId="2.1"/>`
	viewXML   = `<VisualizationInfo Guid="` + guidA + `"><PerspectiveCamera><CameraViewPoint><X>1</X><Y>2</Y><Z>3</Z></CameraViewPoint><CameraDirection><X>0</X><Y>1</Y><Z>0</Z></CameraDirection><CameraUpVector><X>0</X><Y>0</Y><Z>1</Z></CameraUpVector><FieldOfView>60</FieldOfView></PerspectiveCamera></VisualizationInfo>`
)

func TestOddArchivesAreRead(t *testing.T) {
	view := func(change func(string) string) map[string]string {
		return map[string]string{"bcf.version": version21, guidA + "/v.bcfv": change(viewXML),
			guidA + "/markup.bcf": strings.Replace(markupXML, "</Markup>", `<Viewpoints Guid="`+guidA+`"><Viewpoint>v.bcfv</Viewpoint></Viewpoints></Markup>`, 1)}
	}
	for _, c := range []struct {
		name  string
		files map[string]string
		warn  string // "" when there is nothing to complain about
		check func(*Archive) bool
	}{
		{"no version, looks like 2.1", map[string]string{guidA + "/markup.bcf": markupXML}, "bcf.version is missing", func(a *Archive) bool { return a.Version == V21 }},
		{"no version, looks like 3.0", map[string]string{guidA + "/markup.bcf": markup30}, "bcf.version is missing", func(a *Archive) bool {
			return a.Version == V30 && a.Topics[0].Comments[0].Text == "said"
		}},
		{"no version, list of words", map[string]string{guidA + "/markup.bcf": markupXML, "extensions.xml": "<Extensions/>"}, "bcf.version is missing", func(a *Archive) bool { return a.Version == V30 }},
		{"older version", map[string]string{"bcf.version": `<Version VersionId="2.0"/>`, guidA + "/markup.bcf": markupXML}, `version "2.0" is read as 2.1`, func(a *Archive) bool { return a.Version == V21 }},
		{"later version", map[string]string{"bcf.version": `<Version VersionId="3.1"/>`, guidA + "/markup.bcf": markup30}, `version "3.1" is read as 3.0`, func(a *Archive) bool { return a.Version == V30 }},
		{"version file broken", map[string]string{"bcf.version": `<Version`, guidA + "/markup.bcf": markupXML}, `"bcf.version" is passed over`, nil},
		{"nothing but a version", map[string]string{"bcf.version": version21}, "", func(a *Archive) bool { return len(a.Topics) == 0 }},
		{"wrapped in a folder", map[string]string{"issues/bcf.version": version21, "issues/" + guidA + "/markup.bcf": markupXML, "issues/x.pdf": "%PDF", "__MACOSX/._x": "x"}, `everything is in a folder "issues"`, func(a *Archive) bool {
			return len(a.Topics) == 1 && len(a.Files) == 1 && a.Files[0].Name == "x.pdf"
		}},
		{"wrapped twice, no topic", map[string]string{"a/b/bcf.version": version21}, `everything is in a folder "a/b"`, nil},
		{"names in another case", map[string]string{"BCF.Version": version21, guidA + "/Markup.BCF": markupXML}, "", func(a *Archive) bool { return len(a.Topics) == 1 }},
		{"folders as entries", map[string]string{"bcf.version": version21, guidA + "/": "", guidA + "/markup.bcf": markupXML, guidA + "/empty/": ""}, "", func(a *Archive) bool { return len(a.Topics[0].Files) == 0 }},
		{"dot before the names", map[string]string{"./bcf.version": version21, "./" + guidA + "/markup.bcf": markupXML, "./": ""}, "", func(a *Archive) bool { return len(a.Topics) == 1 }},
		{"form of 3.0 in 2.1", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": markup30}, "", func(a *Archive) bool { return a.Topics[0].Comments[0].Text == "said" }},
		{"folder is not the Guid", map[string]string{"bcf.version": version21, "first/markup.bcf": markupXML}, `"first": the topic's Guid is`, func(a *Archive) bool { return a.Topics[0].GUID == guidA }},
		{"no Guid", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": strings.Replace(markupXML, `Guid=`, `Gid=`, 1)}, "has no Guid", func(a *Archive) bool { return a.Topics[0].GUID == guidA }},
		{"Guid is none", map[string]string{"bcf.version": version21, "7/markup.bcf": strings.Replace(markupXML, guidA, `7`, 1)}, `"7" is no GUID`, nil},
		{"folder without topic", map[string]string{"bcf.version": version21, "other/a.txt": "x"}, "", func(a *Archive) bool { return a.Files[0].Name == "other/a.txt" }},
		{"one topic broken", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": markupXML, "b/markup.bcf": "<Markup><Topic", "b/x.png": "x"}, `"b/markup.bcf" is passed over`, func(a *Archive) bool {
			return len(a.Topics) == 1 && len(a.Files) == 2
		}},
		{"no topic in the markup", map[string]string{"bcf.version": version21, "b/markup.bcf": "<Markup/>"}, "there is no Topic", nil},
		{"two topics in a markup", map[string]string{"bcf.version": version21, "b/markup.bcf": "<Markup><Topic/><Topic/></Markup>"}, "two topics", nil},
		{"markup empty", map[string]string{"bcf.version": version21, "b/markup.bcf": ""}, `there is no XML in it`, nil},
		{"byte order mark", map[string]string{"bcf.version": "\xef\xbb\xbf" + version21, guidA + "/markup.bcf": "\xef\xbb\xbf" + markupXML}, "", func(a *Archive) bool { return a.Topics[0].Title == "T" }},
		{"UTF-16", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": utf16("\ufeff" + `<?xml version="1.0" encoding="utf-16"?>` + strings.Replace(markupXML, ">T<", ">Öse<", 1))}, "", func(a *Archive) bool { return a.Topics[0].Title == "Öse" }},
		{"UTF-16 without mark", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": utf16(markupXML)}, "", func(a *Archive) bool { return a.Topics[0].Title == "T" }},
		{"UTF-8 that states UTF-16", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": `<?xml version="1.0" encoding="utf-16"?>` + strings.Replace(markupXML, ">T<", ">Öse<", 1)}, "", func(a *Archive) bool { return a.Topics[0].Title == "Öse" }},
		{"Latin 1", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": strings.Replace(markupXML, ">T<", ">\xd6se<", 1)}, "", func(a *Archive) bool { return a.Topics[0].Title == "Öse" }},
		{"comment in a text", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": strings.Replace(markupXML, ">T<", "><![CDATA[A&]]><!-- x -->B<", 1)}, "", func(a *Archive) bool { return a.Topics[0].Title == "A&B" }},
		{"elements of others", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": strings.NewReplacer("<Title>", `<x:Cost xmlns:x="urn:x"><a>5</a></x:Cost><Title>`, "</Markup>", "<Mine/></Markup>").Replace(markupXML)}, "", func(a *Archive) bool {
			return slices.Equal(a.Topics[0].Extra, []Extra{{"Topic", `<x:Cost xmlns:x="urn:x"><a>5</a></x:Cost>`}, {"Markup", "<Mine/>"}})
		}},
		{"index is no number", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": strings.Replace(markupXML, "<Title>", "<Index>first</Index><Title>", 1)}, `"first" is no whole number`, func(a *Archive) bool { return a.Topics[0].Index == nil }},
		{"view", view(func(s string) string { return s }), "", func(a *Archive) bool { return a.Topics[0].Viewpoints[0].View.Camera.Eye == geom.V(1, 2, 3) }},
		{"number with a comma", view(func(s string) string { return strings.Replace(s, "<X>1<", "<X>1,5<", 1) }), `"1,5" is no number in X`, func(a *Archive) bool { return a.Topics[0].Viewpoints[0].View == nil }},
		{"not a number", view(func(s string) string { return strings.Replace(s, "<X>1<", "<X>NaN<", 1) }), `"NaN" is no number in X`, nil},
		{"infinite", view(func(s string) string { return strings.Replace(s, "<X>1<", "<X>-INF<", 1) }), `"-INF" is no number in X`, nil},
		{"no Z", view(func(s string) string { return strings.Replace(s, "<Z>3</Z>", "", 1) }), "CameraViewPoint has no Z", nil},
		{"no camera", view(func(string) string { return "<VisualizationInfo/>" }), "", func(a *Archive) bool { return a.Topics[0].Viewpoints[0].View.Camera == nil }},
		{"no view", view(func(string) string { return "<svg/>" }), "svg is no viewpoint", nil},
		{"view not there", map[string]string{"bcf.version": version21, guidA + "/markup.bcf": view(strings.Clone)[guidA+"/markup.bcf"]}, `file "v.bcfv" is not there`, nil},
		{"view in another case", map[string]string{"bcf.version": version21, guidA + "/V.BCFV": viewXML, guidA + "/markup.bcf": view(strings.Clone)[guidA+"/markup.bcf"]}, "", func(a *Archive) bool {
			return a.Topics[0].Viewpoints[0].File == "V.BCFV"
		}},
		{"view not listed", map[string]string{"bcf.version": version21, guidA + "/viewpoint.bcfv": viewXML, guidA + "/snapshot.png": "x", guidA + "/markup.bcf": markupXML}, "viewpoint.bcfv is not listed", func(a *Archive) bool {
			v := a.Topics[0].Viewpoints[0]
			return v.View != nil && v.Snapshot == "snapshot.png"
		}},
	} {
		data := packed(c.files)
		a, err := Read(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if all := strings.Join(a.Warnings, "\n"); (c.warn == "") != (all == "") || !strings.Contains(all, c.warn) {
			t.Errorf("%s: warnings %q, want %q", c.name, a.Warnings, c.warn)
		}
		if c.check != nil && !c.check(a) {
			t.Errorf("%s: got %+v", c.name, a)
		}
		for _, v := range versions {
			if err := a.Write(&bytes.Buffer{}, v); err != nil {
				t.Errorf("%s: written again as %s: %v", c.name, v, err)
			}
		}
	}
}

// utf16 is a text as UTF-16 with the low byte first.
func utf16(s string) string {
	var b strings.Builder
	for _, r := range s {
		b.WriteByte(byte(r))
		b.WriteByte(byte(r >> 8))
	}
	return b.String()
}

// Elements that the standard does not name come back where they were.
func TestElementsOfOthersAreWrittenAgain(t *testing.T) {
	const extra = `<x:Cost xmlns:x="urn:x"><a>5</a></x:Cost>`
	data := packed(map[string]string{"bcf.version": version21, guidA + "/markup.bcf": strings.NewReplacer(
		"</Topic>", extra+"</Topic><Comment Guid=\""+guidA+"\"><Comment>c</Comment><VerbalStatus>Open</VerbalStatus></Comment>", "</Markup>", "<Mine/></Markup>").Replace(markupXML)})
	a := read(t, data)
	var b bytes.Buffer
	if err := a.Write(&b, V21); err != nil {
		t.Fatal(err)
	}
	again := read(t, b.Bytes())
	squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
	if got := again.Topics[0].Extra; len(got) != 2 || squeeze(got[0].XML) != squeeze(extra) || got[1].XML != "<Mine/>" {
		t.Errorf("got %q", got)
	}
	if got := again.Topics[0].Comments[0].Extra; !slices.Equal(got, []string{"<VerbalStatus>Open</VerbalStatus>"}) {
		t.Errorf("got %q", got)
	}
}

func TestParseDate(t *testing.T) {
	for in, want := range map[string]string{
		"2026-01-02T03:04:05Z":             "2026-01-02T03:04:05Z",
		"2026-01-02T03:04:05":              "2026-01-02T03:04:05Z",
		"2026-01-02T03:04:05.1239":         "2026-01-02T03:04:05.123Z",
		"2026-01-02T03:04:05+02:00":        "2026-01-02T01:04:05Z",
		"2026-01-02T03:04:05+0200":         "2026-01-02T01:04:05Z",
		" 2026-01-02T03:04 ":               "2026-01-02T03:04:00Z",
		"2026-01-02 03:04:05":              "2026-01-02T03:04:05Z",
		"2026-01-02":                       "2026-01-02T00:00:00Z",
		"2026-01-02T03:04:05.1234567-0300": "2026-01-02T06:04:05.123Z",
		"02.01.2026":                       "",
		"2026-02-30":                       "",
		"":                                 "",
	} {
		if got := normalDate(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

func TestOpenNamesTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.bcf")
	if _, err := Open(path); err == nil || !strings.Contains(err.Error(), path) {
		t.Errorf("got %v", err)
	}
	if err := os.WriteFile(path, []byte("no zip"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(path); err == nil || !strings.Contains(err.Error(), path+": no BCF archive") {
		t.Errorf("got %v", err)
	}
}
