package mutate

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// Package is a package whose mutants are known.
type Package struct {
	Mutants []*Mutant // in the order of files and lines
	src     *source
}

// Load finds the mutants of the package in a folder.
func Load(folder string) (*Package, error) {
	src, err := load(folder)
	if err != nil {
		return nil, err
	}
	return &Package{find(src), src}, nil
}

// Sample is n of the mutants that pass, by a seed and in the order of the files;
// all of them when n is 0.
func (p *Package) Sample(seed uint64, n int, pass func(*Mutant) bool) []*Mutant {
	var out []*Mutant
	for _, m := range p.Mutants {
		if pass(m) {
			out = append(out, m)
		}
	}
	if n <= 0 || n >= len(out) {
		return out
	}
	rand.New(rand.NewPCG(seed, 0)).Shuffle(len(out), func(i, k int) { out[i], out[k] = out[k], out[i] })
	out = out[:n]
	slices.SortFunc(out, func(a, b *Mutant) int { return a.ID - b.ID })
	return out
}

// Judge runs the tests of the folders, those of the package itself first, with one
// of the chosen mutants at a time. Tests that take longer than the limit count as
// failed. tell is called for each mutant when it is done, in any order.
func (p *Package) Judge(chosen []*Mutant, folders []string, limit time.Duration, workers int, tell func(Verdict)) ([]Verdict, error) {
	dir, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	j := &judge{src: p.src, dir: dir, limit: limit, folders: []string{p.src.dir}}
	for _, f := range folders {
		if f, err = filepath.Abs(f); err != nil {
			return nil, err
		}
		j.folders = append(j.folders, f)
	}
	return j.all(p.Mutants, chosen, workers, tell)
}
