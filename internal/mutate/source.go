package mutate

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// source is a package as it is parsed.
type source struct {
	dir   string
	fset  *token.FileSet
	files []*parsed
	types *types.Package
	info  types.Info
}

type parsed struct {
	path     string
	src      []byte
	ast      *ast.File
	together []edit // all mutants of the file that are compiled as one
}

// load parses and checks the package in a folder, without its tests.
func load(dir string) (*source, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	list, err := command(dir, "go", "list", "-f", `{{.ImportPath}}{{range .GoFiles}} {{.}}{{end}}`, ".")
	if err != nil {
		return nil, err
	}
	fields := strings.Fields(list)
	s := &source{dir: dir, fset: token.NewFileSet(), info: types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}}}
	var trees []*ast.File
	for _, name := range fields[1:] {
		p := &parsed{path: filepath.Join(dir, name)}
		if p.src, err = os.ReadFile(p.path); err != nil {
			return nil, err
		}
		if p.ast, err = parser.ParseFile(s.fset, p.path, p.src, parser.SkipObjectResolution); err != nil {
			return nil, err
		}
		s.files, trees = append(s.files, p), append(trees, p.ast)
	}
	exports, err := command(dir, "go", "list", "-export", "-deps", "-f", "{{.ImportPath}}\t{{.Export}}", ".")
	if err != nil {
		return nil, err
	}
	at := map[string]string{}
	for _, line := range strings.Split(exports, "\n") {
		path, file, _ := strings.Cut(line, "\t")
		at[path] = file
	}
	conf := types.Config{Importer: importer.ForCompiler(s.fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(at[path]) })}
	s.types, err = conf.Check(fields[0], s.fset, trees, &s.info)
	return s, err
}

// command is what a command prints.
func command(dir string, name string, args ...string) (string, error) {
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	var told bytes.Buffer
	cmd.Stderr = &told
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%s %s: %w\n%s", name, args[0], err, told.Bytes())
	}
	return string(out), nil
}
