package bcf

import (
	"bytes"
	"os"
	"reflect"
	"testing"

	"embedcheck/internal/bounded"
)

// What can be read can be written in either version, and read again with the
// same topics. Written twice in its own version, nothing changes any more.
func FuzzRead(f *testing.F) {
	for _, v := range versions {
		var b bytes.Buffer
		if err := full(v).Write(&b, v); err != nil {
			f.Fatal(err)
		}
		f.Add(b.Bytes())
		f.Add(write(f, writer(v), demo()))
	}
	f.Add(topicWith("<X>1<", "<X>1,5<"))
	f.Add(packed(map[string]string{"issues/" + guidA + "/markup.bcf": markup30}))
	if _, err := os.Stat("../../../shared/data/bcf"); err == nil {
		for _, path := range officialFiles(f) {
			if data, err := os.ReadFile(path); err == nil && len(data) < 8<<10 {
				f.Add(data)
			}
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var a *Archive
		var err error
		bounded.Work(t, len(data), bounded.Limit{Base: 16 << 20, PerByte: 20_000}, func() { a, err = Read(bytes.NewReader(data), int64(len(data))) })
		if err != nil {
			return
		}
		for _, v := range versions {
			var b bytes.Buffer
			if a.Write(&b, v) != nil {
				return // two topics of one name, a file that is damaged
			}
			again := read(t, b.Bytes())
			if len(again.Topics) != len(a.Topics) {
				t.Fatalf("%s: %d topics written, %d read", v, len(a.Topics), len(again.Topics))
			}
			if v != a.Version {
				continue
			}
			var c bytes.Buffer
			if err := again.Write(&c, v); err != nil {
				t.Fatalf("%s: written once, but not twice: %v", v, err)
			}
			third := read(t, c.Bytes())
			if got, want := comparable(t, third), comparable(t, again); !reflect.DeepEqual(got, want) {
				t.Fatalf("%s: written twice it is\n%+v\nwant\n%+v", v, got, want)
			}
		}
	})
}

// The parts are small, so they are fuzzed without a zip around them.
func FuzzParts(f *testing.F) {
	f.Add([]byte(markupXML), []byte(viewXML))
	f.Add([]byte(markup30), []byte(viewXML))
	for _, v := range versions {
		var b bytes.Buffer
		if err := full(v).Write(&b, v); err != nil {
			f.Fatal(err)
		}
		files, names := unpack(f, b.Bytes())
		for _, name := range names {
			if schemaOf(name) == "markup.xsd" {
				f.Add(files[name], []byte(viewXML))
			}
			if schemaOf(name) == "visinfo.xsd" {
				f.Add([]byte(markupXML), files[name])
			}
		}
	}
	f.Fuzz(func(t *testing.T, markup, view []byte) {
		in := &reading{a: &Archive{}}
		root, err := parseXML(markup)
		if err != nil {
			return
		}
		top, err := in.markup(root)
		if err != nil {
			return
		}
		top.GUID = guidA
		top.Viewpoints = nil
		if root, err := parseXML(view); err == nil {
			if v, err := in.view(root); err == nil {
				top.Viewpoints = []Viewpoint{{GUID: guidA, File: "viewpoint.bcfv", View: v}}
			}
		}
		for _, v := range versions {
			a := &Archive{Version: v, Topics: []*Topic{top}}
			var b bytes.Buffer
			if err := a.Write(&b, v); err != nil {
				t.Fatal(err)
			}
			again := read(t, b.Bytes())
			if len(again.Topics) != 1 || len(again.Topics[0].Comments) != len(top.Comments) || len(again.Warnings) > 0 {
				t.Fatalf("%s: got %+v, want %+v", v, again, top)
			}
			if len(top.Viewpoints) > 0 && len(again.Topics[0].Viewpoints[0].View.Selection) != len(top.Viewpoints[0].View.Selection) {
				t.Fatalf("%s: selection %+v", v, again.Topics[0].Viewpoints[0].View)
			}
		}
	})
}
