package check

import (
	"path/filepath"
	"slices"
	"strings"

	"embedcheck/ifcread"
	"embedcheck/internal/element"
	"embedcheck/internal/model"
)

func source(path, name string, f *ifcread.File, m *element.Model, hash string) model.Source {
	s := model.Source{
		Path:   path,
		Name:   name,
		SHA256: hash,
		Schema: f.Schema().String(),
		Date:   f.Header().TimeStamp,
		Unit:   m.Units.LengthName,
	}
	if p := f.Of(ifcread.TypeOf("IfcProject")); len(p) > 0 {
		s.Project, _ = p[0].Attr("GlobalId").Str()
	}
	if p, ok := m.MapPlace(); ok {
		s.Map = (*model.MapPlace)(&p)
	}
	if north, ok := m.TrueNorth(); ok {
		s.TrueNorth = &north
	}
	return s
}

// sourceNames are the names that files go by in findings: without folders or,
// where several files have one name, with as many folders as it takes to tell
// them apart.
func sourceNames(paths []string) []string {
	names := make([]string, len(paths))
	for i, p := range paths {
		parts := strings.Split(filepath.ToSlash(filepath.Clean(p)), "/")
		for n := 1; n <= len(parts); n++ {
			names[i] = strings.Join(parts[len(parts)-n:], "/")
			if !likeAnother(paths, i, names[i]) {
				break
			}
		}
	}
	return names
}

// likeAnother reports whether the path of another file ends in a name, too.
func likeAnother(paths []string, i int, name string) bool {
	return slices.ContainsFunc(paths, func(p string) bool {
		p = filepath.ToSlash(filepath.Clean(p))
		return p != filepath.ToSlash(filepath.Clean(paths[i])) && (p == name || strings.HasSuffix(p, "/"+name))
	})
}

// problems turns what the reader stumbled over into things not checked.
func problems(source int, f *ifcread.File, m *element.Model) []model.Unread {
	var out []model.Unread
	ref := model.Ref{Source: source, Class: "IfcProject", Name: filepath.Base(f.Name())}
	if m.Units.Problem != "" {
		out = append(out, model.Unread{Ref: ref, Role: "file", Why: m.Units.Problem})
	}
	for _, p := range f.Problems() {
		r := model.Ref{Source: source, Instance: uint64(p.ID), Class: p.Entity, Line: p.Line}
		out = append(out, model.Unread{Ref: r, Role: "file", Why: p.Error()})
	}
	return out
}
