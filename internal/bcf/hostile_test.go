package bcf

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// stored is a zip of one topic and one more entry whose header is as given.
func stored(t *testing.T, h zip.FileHeader, body []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, data := range map[string]string{"bcf.version": version21, guidA + "/markup.bcf": markupXML} {
		w, err := z.Create(name)
		if err == nil {
			_, err = io.WriteString(w, data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	w, err := z.CreateRaw(&h)
	if err == nil {
		_, err = w.Write(body)
	}
	if err := errors.Join(err, z.Close()); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// named is an archive with one more empty file of the name.
func named(t *testing.T, name string) []byte { return stored(t, zip.FileHeader{Name: name}, nil) }

func linked(t *testing.T) []byte {
	h := zip.FileHeader{Name: "link"}
	h.SetMode(os.ModeSymlink | 0o777)
	return stored(t, h, nil)
}

// topicWith is an archive whose topic, or its view, is changed.
func topicWith(old, new string) []byte {
	if strings.Count(markupXML+viewXML, old) == 0 {
		panic(old + " is not there")
	}
	return packed(map[string]string{
		"bcf.version":           version21,
		guidA + "/v.bcfv":       strings.Replace(viewXML, old, new, 1),
		guidA + "/markup.bcf":   strings.Replace(strings.Replace(markupXML, "</Markup>", `<Viewpoints Guid="`+guidA+`"><Viewpoint>v.bcfv</Viewpoint></Viewpoints></Markup>`, 1), old, new, 1),
		guidA + "/snapshot.png": "x",
	})
}

const laughs = `<!DOCTYPE M [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">]>`

func noise(n int) []byte {
	b := make([]byte, n)
	r := rand.New(rand.NewPCG(15, 16))
	for i := range b {
		b[i] = byte(r.Uint32())
	}
	return b
}

func TestHostileArchivesAreRefused(t *testing.T) {
	version := func(s string) []byte { return packed(map[string]string{"bcf.version": s}) }
	deflated := func(n int) []byte {
		return packed(map[string]string{"bcf.version": version21, "x.png": strings.Repeat("\x00", n)})
	}
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"out of the archive", named(t, "../x"), `"../x" is a name that leads out`},
		{"out by a detour", named(t, "a/../../x"), "leads out"},
		{"through a folder and back", named(t, "a/../x"), "leads out"},
		{"absolute", named(t, "/etc/x"), "leads out"},
		{"drive", named(t, "C:/x"), "leads out"},
		{"drive, relative", named(t, "c:x"), "leads out"},
		{"backslash", named(t, `a\x`), "has a backslash"},
		{"backslashes out", named(t, `..\x`), "has a backslash"},
		{"doubled slash", named(t, "a//x"), "leads out"},
		{"NUL", named(t, "a\x00b"), "leads out"},
		{"control character", named(t, "a\x1b[2Jb"), `"a\x1b[2Jb" is a name`},
		{"dot", named(t, "a/./x"), "leads out"},
		{"twice", named(t, "bcf.version"), `"bcf.version" is there twice`},
		{"twice by a dot", named(t, "./bcf.version"), `"bcf.version" is there twice`},
		{"twice by a folder around", packed(map[string]string{"w/bcf.version": version21, "w/" + guidA + "/markup.bcf": markupXML, "bcf.version": version21}), "is there twice, once in a folder"},
		{"link", linked(t), `"link" is a symbolic link`},
		{"bomb", deflated(4 << 20), "unpacks to more than 250 times its size"},
		{"bomb in XML", packed(map[string]string{"bcf.version": "<a>" + strings.Repeat(" ", 4<<20) + "</a>"}), "unpacks to more than 250 times"},
		{"XML too large", packed(map[string]string{"bcf.version": "<a>" + string(noise(maxPartBytes))}), "larger than 32 MiB"},
		{"entities", version(laughs + `<Version VersionId="&c;"/>`), "has a document type"},
		{"entities in a topic", topicWith("<Markup>", laughs+"<Markup>"), "has a document type"},
		{"entities in a view", topicWith("<VisualizationInfo", laughs+"<VisualizationInfo"), "has a document type"},
		{"entity of another file", version(`<!DOCTYPE V [<!ENTITY x SYSTEM "file:///etc/passwd">]><Version>&x;</Version>`), "has a document type"},
		{"document type after the root", version(`<Version/><!DOCTYPE V>`), "has a document type"},
		{"document type in UTF-16", version(utf16("\ufeff" + `<!DOCTYPE V><Version/>`)), "has a document type"},
		{"document type, then broken", version(`<!DOCTYPE V [<!ENTITY a "b">]><Version`), "has a document type"},
		{"deep", version(strings.Repeat("<a>", 200) + strings.Repeat("</a>", 200)), "nested deeper than 100 levels"},
		{"huge index", topicWith("<Title>", "<Index>99999999999999999999</Index><Title>"), `the number "99999999999999999999" in Index`},
		{"index beyond xs:int", topicWith("<Title>", "<Index>2147483648</Index><Title>"), "in Index"},
		{"huge number", topicWith("<X>1<", "<X>1e400<"), `the number "1e400" in X`},
		{"number beyond every model", topicWith("<X>1<", "<X>-1.1e12<"), "in X"},
		{"size that is a lie", stored(t, zip.FileHeader{Name: guidA + "/x", UncompressedSize64: 9 << 40, CompressedSize64: 9 << 40}, nil), ""},
	} {
		a, err := Read(bytes.NewReader(c.data), int64(len(c.data)))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %+v, %v, want an error with %q", c.name, a, err, c.want)
			continue
		}
		if c.want != "" && !errors.Is(err, ErrHostile) {
			t.Errorf("%s: %v does not say that it is hostile", c.name, err)
		}
	}
}

// The same just within the limits is read.
func TestAtTheLimitsItIsRead(t *testing.T) {
	for name, data := range map[string][]byte{
		"depth":     packed(map[string]string{"bcf.version": version21, "extensions.xml": strings.Repeat("<a>", 99) + strings.Repeat("</a>", 99)}),
		"number":    topicWith("<X>1<", "<X>-1e12<"),
		"index":     topicWith("<Title>", "<Index>2147483647</Index><Title>"),
		"colon":     named(t, "at 10:30.png"),
		"two dots":  named(t, "a..b/..c"),
		"small gap": packed(map[string]string{"bcf.version": version21, "x.png": strings.Repeat("\x00", 1<<20)}),
		"old names": named(t, "Pr\x81fung.pdf"),
	} {
		a, err := Read(bytes.NewReader(data), int64(len(data)))
		if err != nil || len(a.Warnings) > 0 {
			t.Errorf("%s: %v, %+v", name, err, a)
		}
	}
}

func TestOldNamesAreDecoded(t *testing.T) {
	if a := read(t, named(t, "Pr\x81fung.pdf")); a.Files[0].Name != "Prüfung.pdf" {
		t.Errorf("got %q", a.Files[0].Name)
	}
}

func TestTooManyEntries(t *testing.T) {
	if _, err := entries(make([]*zip.File, maxEntries+1)); !errors.Is(err, ErrHostile) {
		t.Errorf("got %v", err)
	}
	var list []*zip.File
	for i := range 9 {
		list = append(list, &zip.File{FileHeader: zip.FileHeader{Name: fmt.Sprint(i), UncompressedSize64: 1 << 30, CompressedSize64: 1 << 29}})
	}
	if _, err := entries(list[:8]); err != nil {
		t.Errorf("8 GiB: %v", err)
	}
	if _, err := entries(list); !errors.Is(err, ErrHostile) || !strings.Contains(err.Error(), "more than 8 GiB") {
		t.Errorf("9 GiB: got %v", err)
	}
	list[0].UncompressedSize64 = 1<<64 - 1 // a sum that runs over
	list[0].CompressedSize64 = 1<<64 - 1
	if _, err := entries(list[:2]); !errors.Is(err, ErrHostile) {
		t.Errorf("sum that runs over: got %v", err)
	}
}

func TestTooManyElements(t *testing.T) {
	many := func(n int) []byte { return []byte("<r>" + strings.Repeat("<a/>", n) + "</r>") }
	if _, err := parseXML(many(maxXMLMarks - 2)); err != nil {
		t.Errorf("at the limit: %v", err)
	}
	if _, err := parseXML(many(maxXMLMarks - 1)); !errors.Is(err, ErrHostile) {
		t.Errorf("over the limit: got %v", err)
	}
	if _, err := parseXML([]byte("<r " + strings.Repeat(`a="" `, maxXMLMarks) + "/>")); !errors.Is(err, ErrHostile) {
		t.Errorf("attributes: got %v", err)
	}
}

func TestTooMuchXML(t *testing.T) {
	data := packed(map[string]string{"bcf.version": version21})
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	in := &reading{a: &Archive{}, left: int64(len(version21))}
	e := entry{"bcf.version", z.File[0]}
	if _, _, err := in.xml(e); err != nil {
		t.Errorf("at the limit: %v", err)
	}
	if _, _, err := in.xml(e); !errors.Is(err, ErrHostile) {
		t.Errorf("over the limit: got %v", err)
	}
}

// Archives that are no issue lists, or are damaged, are errors that say so.
func TestWhatCannotBeRead(t *testing.T) {
	good := write(t, writer(V21), demo())
	body := []byte("hello")
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "no BCF archive"},
		{"text", []byte("<Markup/>"), "no BCF archive"},
		{"cut short", good[:len(good)-30], "no BCF archive"},
		{"another zip", packed(map[string]string{"a.txt": "x"}), "neither bcf.version nor a topic"},
		{"two lists", packed(map[string]string{"a/1/markup.bcf": markupXML, "b/1/markup.bcf": markupXML}), "several issue lists"},
		{"password", stored(t, zip.FileHeader{Name: "x", Flags: 1}, nil), "encrypted"},
	} {
		if _, err := Read(bytes.NewReader(c.data), int64(len(c.data))); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.name, err, c.want)
		}
	}
	for _, c := range []struct {
		name string
		h    zip.FileHeader
		want string
	}{
		{"unknown method", zip.FileHeader{Name: "x", Method: 99, CompressedSize64: 5, UncompressedSize64: 5}, "packed with method 99"},
		{"wrong sum", zip.FileHeader{Name: "x", CompressedSize64: 5, UncompressedSize64: 5, CRC32: 1}, "the archive is damaged"},
		{"longer than stated", zip.FileHeader{Name: "x", CompressedSize64: 5, UncompressedSize64: 3, CRC32: crc32.ChecksumIEEE(body)}, ""},
		{"shorter than stated", zip.FileHeader{Name: "x", CompressedSize64: 5, UncompressedSize64: 7, CRC32: crc32.ChecksumIEEE(body)}, ""},
	} {
		a := read(t, stored(t, c.h, body))
		if _, err := a.Files[0].Data(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.name, err, c.want)
		}
	}
}

func TestWarningsHaveAnEnd(t *testing.T) {
	in := &reading{a: &Archive{}}
	for i := range 10 * maxWarnings {
		in.warn("%d", i)
	}
	if n := len(in.a.Warnings); n != maxWarnings+1 || in.a.Warnings[n-1] != "and more of this kind" {
		t.Errorf("%d warnings, the last is %q", n, in.a.Warnings[n-1])
	}
}
