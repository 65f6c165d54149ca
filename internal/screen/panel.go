package screen

import (
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
	"embedcheck/internal/report"
)

// Panel is what the table says of a model. The largest host gives mark and size.
func Panel(f File, m *model.Model, run *finding.Run) report.Panel {
	p := report.PanelOf(run)
	p.File = f.Folder
	h := largest(m.Hosts)
	if h == nil {
		return p
	}
	p.Mark = finding.Ref{Name: h.Name, Mark: h.Mark, Class: h.Class}.YardMark()
	if h.Body == nil {
		return p // nothing is cast in, so its body was not made
	}
	if e, ok := measure.SizeOf(h.Body); ok {
		p.Size = [3]float64{finding.Round(e.Length, 1), finding.Round(e.Width, 1), finding.Round(e.Thickness, 1)}
	}
	return p
}

func largest(hosts []*model.Host) *model.Host {
	var best *model.Host
	most := -1.0
	for _, h := range hosts {
		if v := volume(h); v > most+geom.Tol {
			best, most = h, v
		}
	}
	return best
}

// volume is that of the body. A host that nothing is cast into has none: it
// comes after all others.
func volume(h *model.Host) float64 {
	if h.Body != nil {
		return h.Body.Volume() + 1
	}
	return 0
}
