package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// benchWorkers measures what a second core brings, and holds the outputs of
// different numbers of workers to the same bytes.
func benchWorkers(b *bench) error {
	for _, n := range b.sizes {
		path, bytes, err := b.model(n)
		if err != nil {
			return err
		}
		costs, err := b.inTurns(b.program("check", "--workers", "1", path), b.program("check", "--workers", "2", path))
		if err != nil {
			return err
		}
		want := atLeast(1.4)
		if runtime.NumCPU() < 2 {
			want = target{}
		}
		b.table.add(size(bytes)+" one worker / two", costs[0].wall/costs[1].wall, want, "%s / %s", seconds(costs[0].wall), seconds(costs[1].wall))
	}
	return b.sameBytes()
}

// sameBytes checks the least of the models with several numbers of workers, all
// files written, and compares them and what was printed.
func (b *bench) sameBytes() error {
	path, bytes, err := b.model(b.sizes[0])
	if err != nil {
		return err
	}
	numbers := []int{1, 2, 3, 8}
	different := 0
	var first string
	for i, workers := range numbers {
		hash, err := b.outputHash(path, workers)
		if err != nil {
			return err
		}
		if i == 0 {
			first = hash
		} else if hash != first {
			different++
		}
	}
	b.table.add(fmt.Sprintf("%s outputs that differ by the number of workers", size(bytes)), float64(different), atMost(0),
		"issues, findings, page and summary of %s workers", strings.Trim(fmt.Sprint(numbers), "[]"))
	if different > 0 {
		return fmt.Errorf("%d outputs differ by the number of workers", different)
	}
	return nil
}

// outputHash is one hash of all that a check writes and prints. The folder has
// the same name each time, since the summary names it.
func (b *bench) outputHash(path string, workers int) (string, error) {
	dir, err := b.scratch("same")
	if err != nil {
		return "", err
	}
	text, err := output(b.program("check", "--workers", fmt.Sprint(workers), "--drawings", "--out", dir, path))
	if err != nil {
		return "", err
	}
	h := sha256.New()
	fmt.Fprintln(h, text)
	err = filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(p)
		fmt.Fprintf(h, "%s %d\n%s", p, len(data), data)
		return err
	})
	return hex.EncodeToString(h.Sum(nil)), err
}
