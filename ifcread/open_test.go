package ifcread

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

const small = head + "#1=IFCWALL('2O2Fr$t4X7Zf8NOew3FNr2',$,'WP-03',$,$,$,$,$,$);\n" + tail

const smallXML = `<ifcXML xmlns="http://www.buildingsmart-tech.org/ifcXML/IFC4/final"><IfcWall id="i1" Name="WP-03"/></ifcXML>`

type entry struct {
	name, text string
	method     uint16
}

func pack(t *testing.T, entries ...entry) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, e := range entries {
		w, err := z.CreateHeader(&zip.FileHeader{Name: e.name, Method: e.method})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(e.text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func write(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestOpen(t *testing.T) {
	d := zip.Deflate
	for name, data := range map[string][]byte{
		"wall.ifc":          []byte(small),
		"WALL.IFC":          []byte(small),
		"wall.ifczip":       pack(t, entry{"wall.ifc", small, d}),
		"wall.ifcZIP":       pack(t, entry{"WALL.IFC", small, d}),
		"stored.ifczip":     pack(t, entry{"wall.ifc", small, zip.Store}),
		"folder.ifczip":     pack(t, entry{"a/", "", zip.Store}, entry{"a/b/wall.ifc", small, d}),
		"windows.ifczip":    pack(t, entry{`a\wall.ifc`, small, d}),
		"upwards.ifczip":    pack(t, entry{"../../wall.ifc", small, d}),
		"others.ifczip":     pack(t, entry{"readme.txt", "hello", d}, entry{"wall.ifc", small, d}, entry{"__MACOSX/._wall.ifc", "x", d}),
		"wrong ending.ifc":  pack(t, entry{"wall.ifc", small, d}),
		"wrong ending2.zip": []byte(small),
		"other ending.zip":  pack(t, entry{"wall.step", small, d}),
	} {
		path := write(t, name, data)
		f, err := Open(path, Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if i, ok := f.Get(1); !ok || f.Len() != 1 || f.Name() != path || string(f.Data()) != small {
			t.Errorf("%s: read %v as %s", name, i, f.Name())
		}
		sum := sha256.Sum256(data)
		if f.SHA256() != hex.EncodeToString(sum[:]) {
			t.Errorf("%s: the hash is not that of the file on disk", name)
		}
	}
}

// TestOpenXML reads XML whatever the ending says.
func TestOpenXML(t *testing.T) {
	d := zip.Deflate
	for name, data := range map[string][]byte{
		"wall.ifcxml":      []byte(smallXML),
		"WALL.IFCXML":      []byte(smallXML),
		"wall.xml":         []byte(smallXML),
		"wrong ending.ifc": []byte("\xef\xbb\xbf\r\n" + smallXML),
		"wall.ifczip":      pack(t, entry{"wall.ifcxml", smallXML, d}),
		"WALL.ifcZIP":      pack(t, entry{"a/WALL.ifcXML", smallXML, d}),
		"wall2.ifczip":     pack(t, entry{"wall.ifc", smallXML, d}),
	} {
		f, err := Open(write(t, name, data), Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		i, ok := f.Get(1)
		if wall, _ := i.Attr("Name").Str(); !ok || f.Len() != 1 || i.Name() != "IfcWall" || wall != "WP-03" {
			t.Errorf("%s: read %s %q", name, i.Name(), wall)
		}
		sum := sha256.Sum256(data)
		if f.SHA256() != hex.EncodeToString(sum[:]) {
			t.Errorf("%s: the hash is not that of the file on disk", name)
		}
	}
}

func TestOpenRefuses(t *testing.T) {
	d := zip.Deflate
	whole := pack(t, entry{"wall.ifc", small, d})
	damaged := bytes.Clone(whole)
	damaged[60] ^= 0xFF
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"two.ifczip":        {pack(t, entry{"a.ifc", small, d}, entry{"b.ifc", small, d}), "it holds several models, a.ifc and b.ifc; unpack it"},
		"none.ifczip":       {pack(t, entry{"a.txt", small, d}, entry{"b.txt", small, d}), "there is no .ifc or .ifcxml file in it"},
		"both.ifczip":       {pack(t, entry{"a.ifcXML", smallXML, d}, entry{"a.ifc", small, d}), "it holds several models, a.ifcXML and a.ifc; unpack it"},
		"xml.ifczip":        {pack(t, entry{"a.ifcXML", "<ifcXML/>", d}), "it is XML whose root names no edition of IFC"},
		"bomb.ifczip":       {pack(t, entry{"a.ifc", small + strings.Repeat(" ", smallEntry), d}), "more than the 67108864 that are allowed"},
		"cut.ifczip":        {whole[:len(whole)-30], "pack the model again"},
		"damaged.ifczip":    {damaged, "pack the model again"},
		"other.ifczip":      {pack(t, entry{"a.ifc", "hello", d}), "there is no FILE_SCHEMA"},
		"nested.ifczip":     {pack(t, entry{"a.ifc", string(whole), d}), "an archive in an archive"},
		"unknown.ifczip":    {bytes.ReplaceAll(whole, []byte{8, 0}, []byte{99, 0}), "pack the model again"},
		"empty.ifc":         {nil, "it is empty"},
		"large.ifc":         {[]byte(small + strings.Repeat(" ", 1000)), "are more than the 1000 that are read; split the model"},
		"large text.ifczip": {pack(t, entry{"a.ifc", small + strings.Repeat(" ", 1000), d}), "more than the 1000 that are allowed"},
	} {
		path := write(t, name, c.data)
		o := Options{}
		if strings.HasPrefix(name, "large") {
			o.MaxSize = 1000
		}
		_, err := Open(path, o)
		if err == nil || !strings.HasPrefix(err.Error(), path+": ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q that names the file", name, err, c.want)
		}
	}
	if _, err := Open(filepath.Join(t.TempDir(), "nothing.ifc"), Options{}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no file: %v", err)
	}
	if _, err := Open(t.TempDir(), Options{}); err == nil || !strings.Contains(err.Error(), "it is a folder") {
		t.Errorf("a folder: %v", err)
	}
	if _, err := Open(os.DevNull, Options{}); err == nil || !strings.Contains(err.Error(), "not a regular file") {
		t.Errorf("a device: %v", err)
	}
	if _, err := Parse("x.ifc", []byte(small), Options{MaxSize: 10}); err == nil {
		t.Error("Parse takes more than MaxSize")
	}
}

// TestLoadOfLargeFile reads a file in several pieces, and again when it was cut
// short or became longer meanwhile.
func TestLoadOfLargeFile(t *testing.T) {
	var text bytes.Buffer
	text.WriteString(head)
	for id := 1; text.Len() < 5*loadPiece; id++ {
		text.WriteString("#" + strings.Repeat("0", 3) + "1=IFCPROPERTYSINGLEVALUE('Length of the bar',$,IFCPOSITIVELENGTHMEASURE(1250.5),$);\n")
	}
	text.WriteString(tail)
	path := write(t, "large.ifc", text.Bytes())
	f, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(f.Data(), text.Bytes()) {
		t.Error("the text is not that of the file")
	}
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for _, size := range []int{text.Len() + 1, text.Len() - 1} {
		if err := load(file, make([]byte, size)); !errors.Is(err, errChanged) {
			t.Errorf("a file that changes while it is read: %v", err)
		}
	}
}

// TestPublicModels counts the instances of real models with an independent
// pattern.
func TestPublicModels(t *testing.T) {
	models, _ := filepath.Glob(filepath.Join("..", "..", "shared", "data", "models", "*.ifc"))
	if len(models) == 0 {
		t.Skip("no public models beside the checkout")
	}
	pattern := regexp.MustCompile(`(?m)^\s*#(\d+)\s*=\s*([A-Z0-9]+)\(`)
	for _, path := range models {
		f, err := Open(path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if want := len(pattern.FindAll(f.Data(), -1)); f.Len() != want {
			t.Errorf("%s: %d instances, want %d", path, f.Len(), want)
		}
		for row := range f.offs {
			i := Inst{f, uint32(row)}
			args := i.Args(nil)
			if want := len(f.Attrs(i.Type())); len(args) != want {
				t.Errorf("%s:%d: #%d=%s has %d parameters, want %d", path, f.Line(i), i.ID(), i.Name(), len(args), want)
			}
			for _, v := range args {
				if v.Kind() == Bad {
					t.Errorf("%s:%d: #%d: bad value %s", path, f.Line(i), i.ID(), v.Raw())
				}
				v.Refs(nil)
				v.Inst()
			}
		}
		if p := f.Problems(); len(p) > 0 {
			t.Errorf("%s: %v", path, p[0])
		}
		sameAsTwin(t, string(f.Data()), 5000)
	}
}
