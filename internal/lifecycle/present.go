package lifecycle

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/rules"
)

// Present is what the models and the rules of this run can tell about findings
// that are gone.
type Present struct {
	run    *finding.Run
	rules  *rules.Set
	model  *model.Model
	hosts  map[string]*model.Host // by GlobalId
	hostsN map[string][]*model.Host
	items  map[string]*model.Item
	itemsN map[string][]*model.Item
}

// Look indexes the models of this run.
func Look(m *model.Model, set *rules.Set, run *finding.Run) *Present {
	p := &Present{
		run: run, rules: set, model: m,
		hosts: map[string]*model.Host{}, hostsN: map[string][]*model.Host{},
		items: map[string]*model.Item{}, itemsN: map[string][]*model.Item{},
	}
	for _, h := range m.Hosts {
		p.hosts[h.GlobalID] = h
		k := nameOf(h.Name, h.Mark)
		p.hostsN[k] = append(p.hostsN[k], h)
	}
	for _, it := range m.Items {
		p.items[it.GlobalID] = it
		k := nameOf(it.Name, it.Mark)
		p.itemsN[k] = append(p.itemsN[k], it)
	}
	return p
}

func nameOf(name, mark string) string { return name + "\x00" + mark }

// Place states for each finding where it is in its host, so that a later run
// can tell what moved.
func (p *Present) Place() {
	for i := range p.run.Findings {
		f := &p.run.Findings[i]
		w := f.Worst()
		if w == nil {
			continue
		}
		h := p.hosts[f.Host.GlobalID]
		if f.Host.GlobalID == "" {
			h = nil
		}
		frame, size := p.frame(h)
		pl := &finding.Place{At: inFrame(frame, w.At.Mul(1000).Sub(p.model.Origin)), Host: size.Mul(1e-3)}
		if it := p.items[w.Item.GlobalID]; it != nil && !it.Box.Empty() {
			pl.Item = inFrame(frame, middle(it, frame))
		}
		f.Life.Place = pl
	}
}

func inFrame(f geom.Affine, v geom.Vec) geom.Vec { return f.Local(v).Mul(1e-3) }

// middle is the middle of the item's axes, which turn with the host where boxes
// do not; an item without axes has the middle of its box.
func middle(it *model.Item, frame geom.Affine) geom.Vec {
	b := geom.EmptyBox
	for _, a := range it.Anchors {
		b = b.Add(frame.Local(a.Open))
	}
	if b.Empty() {
		return it.Box.Center()
	}
	return frame.Apply(b.Center())
}

// frame is the host's own frame at the least corner of its body, and the size of
// the body; that of the world without a host.
func (p *Present) frame(h *model.Host) (geom.Affine, geom.Vec) {
	if h == nil {
		return geom.Identity.Shift(p.model.Origin.Neg()), geom.Vec{}
	}
	f := h.Frame
	if f.Det() == 0 {
		f = geom.Identity
	}
	b := geom.EmptyBox
	if h.Body != nil {
		for _, v := range h.Body.Verts {
			b = b.Add(f.Local(v))
		}
	} else if !h.Box.Empty() {
		for _, v := range h.Box.Corners() {
			b = b.Add(f.Local(v))
		}
	}
	if b.Empty() {
		return f, geom.Vec{}
	}
	f.T = f.Apply(b.Min)
	return f, b.Size()
}

// same is what counts as not moved, in metres.
const same = 0.001

// unseen says why this run could not find again what the earlier one found; ""
// when it looked.
func (p *Present) unseen(f *finding.Finding, was *finding.Run) string {
	if m := p.missingModel(f, was); m != "" {
		return "model not in this run: " + finding.Plain(m)
	}
	if r := rules.Find(f.Rule); r != nil && r.Values {
		return "no measured values in this run"
	}
	if p.off(f.Rule) {
		return "rule off: " + f.Rule
	}
	if f.Rule == finding.NotChecked {
		return ""
	}
	ids := itemIDs(f)
	for i := range p.run.Findings {
		if n := &p.run.Findings[i]; n.Rule == finding.NotChecked && common(ids, itemIDs(n)) > 0 {
			return "could not be checked in this run: " + f.Worst().Item.Label()
		}
	}
	return ""
}

// reason says why a finding of the earlier run is gone, as far as the two runs
// can tell.
func (p *Present) reason(f *finding.Finding, was *finding.Run) string {
	if f.Host.GlobalID == anyHost {
		return "no longer found"
	}
	h := p.host(f.Host)
	if f.Host != (finding.Ref{}) && h == nil {
		return "host gone: " + f.Host.Label()
	}
	w := f.Worst()
	if w == nil {
		return "no longer found"
	}
	it := p.item(w.Item, h)
	if it == nil && w.Item != (finding.Ref{}) && w.Item.GlobalID != f.Host.GlobalID {
		return "item gone: " + w.Item.Label()
	}
	if it != nil && f.Host != (finding.Ref{}) && it.Host != h {
		return "item moved out of its host: " + w.Item.Label()
	}
	if it != nil && f.Host == (finding.Ref{}) && it.Host != nil {
		return "item lies in " + it.Host.Name + " now: " + w.Item.Label()
	}
	if pl := f.Life.Place; pl != nil && it != nil {
		frame, size := p.frame(h)
		if pl.Host != (geom.Vec{}) && pl.Host.Sub(size.Mul(1e-3)).Norm() > same {
			return fmt.Sprintf("host changed: %s was %s, is %s", f.Host.Label(), sizeText(pl.Host), sizeText(size.Mul(1e-3)))
		}
		if d := pl.Item.Sub(inFrame(frame, middle(it, frame))).Norm(); d > same {
			return fmt.Sprintf("item moved: %s, by %.0f mm in its host", w.Item.Label(), d*1000)
		}
	}
	if was.Ruleset != p.run.Ruleset {
		_, required := w.Values()
		return fmt.Sprintf("limit changed: %s before, by the rules %q; now the rules %q hold", required, finding.Plain(was.Ruleset.Name), finding.Plain(p.run.Ruleset.Name))
	}
	return "no longer found; item and host are in place, so what is around them changed or the item itself"
}

func sizeText(v geom.Vec) string {
	return fmt.Sprintf("%.0f x %.0f x %.0f mm", math.Round(v.X*1000), math.Round(v.Y*1000), math.Round(v.Z*1000))
}

// missingModel names a model that the finding was about and that is not among
// those of this run, neither by its project nor by its name.
func (p *Present) missingModel(f *finding.Finding, was *finding.Run) string {
	w := f.Worst()
	names := []string{f.Host.Model}
	if w != nil {
		names = append(names, w.Item.Model)
		for _, o := range w.Others {
			names = append(names, o.Model)
		}
	}
	for _, n := range names {
		if n != "" && !p.has(n, was) {
			return n
		}
	}
	return ""
}

func (p *Present) has(name string, was *finding.Run) bool {
	project := ""
	for _, m := range was.Models {
		if modelName(m) == name {
			project = m.Project
		}
	}
	// A file under another name is the same model when its project is, or
	// when it holds the same elements; a re-export may renew either.
	for _, m := range p.run.Models {
		if modelName(m) == name || project != "" && m.Project == project {
			return true
		}
	}
	return len(p.run.Models) >= len(was.Models) && p.renamed(was)
}

// renamed reports whether every model of this run that the earlier one did not
// have can stand for one that it had.
func (p *Present) renamed(was *finding.Run) bool {
	known := map[string]bool{}
	for _, m := range was.Models {
		known[modelName(m)] = true
	}
	for _, m := range p.run.Models {
		if !known[modelName(m)] {
			return true
		}
	}
	return false
}

func modelName(m finding.ModelInfo) string {
	if m.Name != "" {
		return m.Name
	}
	return filepath.Base(strings.ReplaceAll(m.Path, `\`, "/"))
}

func (p *Present) off(rule string) bool {
	for _, r := range rules.All {
		if r.ID == rule {
			params := p.rules.General(r)
			return params.Off
		}
	}
	return rule != finding.NotChecked
}

func (p *Present) host(r finding.Ref) *model.Host {
	if h := p.hosts[r.GlobalID]; h != nil && r.GlobalID != "" {
		return h
	}
	if list := p.hostsN[nameOf(r.Name, r.Mark)]; len(list) > 0 && r.Name+r.Mark != "" {
		return list[0]
	}
	return nil
}

// item finds an item again: by GlobalId, else by name and mark, in its host
// first.
func (p *Present) item(r finding.Ref, h *model.Host) *model.Item {
	if it := p.items[r.GlobalID]; it != nil && r.GlobalID != "" {
		return it
	}
	var other *model.Item
	for _, it := range p.itemsN[nameOf(r.Name, r.Mark)] {
		if it.Host == h {
			return it
		}
		if other == nil {
			other = it
		}
	}
	if r.Name+r.Mark == "" {
		return nil
	}
	return other
}
