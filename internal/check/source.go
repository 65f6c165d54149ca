package check

import (
	"path/filepath"

	"embedcheck/ifcread"
	"embedcheck/internal/element"
	"embedcheck/internal/model"
)

func source(path string, f *ifcread.File, m *element.Model, hash string) model.Source {
	s := model.Source{
		Path:   path,
		Name:   filepath.Base(path),
		SHA256: hash,
		Schema: f.Schema().String(),
		Date:   f.Header().TimeStamp,
		Unit:   m.Units.LengthName,
	}
	if p := f.Of(ifcread.TypeOf("IfcProject")); len(p) > 0 {
		s.Project, _ = p[0].Attr("GlobalId").Str()
	}
	return s
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
