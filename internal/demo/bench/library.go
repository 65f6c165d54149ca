package main

import (
	_ "embed"
	"os"
	"path/filepath"
)

//go:embed stream.cjs
var streamScript []byte

// libraryTargets are how many times faster than the library a check should be,
// by the size of the file.
func libraryTarget(bytes float64) target {
	switch {
	case bytes > 400e6:
		return atLeast(20)
	case bytes > 40e6:
		return atLeast(25)
	}
	return target{}
}

// benchLibrary holds whole checks against a general-purpose library that opens
// the file and streams the meshes of all products, and does nothing with them.
func benchLibrary(b *bench) error {
	modules := b.module
	if !filepath.IsAbs(modules) {
		modules = filepath.Join(b.root, modules)
	}
	modules = filepath.Join(modules, "node_modules")
	if t := missing("node"); t != "" {
		b.table.skip("web-ifc / check", "%s is not on this machine", t)
		return nil
	}
	if _, err := os.Stat(filepath.Join(modules, "web-ifc")); err != nil {
		b.table.skip("web-ifc / check", "run npm install in %s", filepath.Dir(modules))
		return nil
	}
	script := filepath.Join(b.temp, "stream.cjs")
	if err := os.WriteFile(script, streamScript, 0o666); err != nil {
		return err
	}
	for _, n := range b.sizes {
		path, bytes, err := b.model(n)
		if err != nil {
			return err
		}
		stream := command{name: "web-ifc", args: []string{"node", script, path}, env: []string{"NODE_PATH=" + modules}}
		costs, err := b.inTurns(b.program("check", path), stream)
		if err != nil {
			b.table.skip(size(bytes)+" web-ifc / check", "%v", err)
			continue
		}
		b.table.add(size(bytes)+" web-ifc / check", costs[1].wall/costs[0].wall, libraryTarget(bytes), "%s (%d runs) / %s", seconds(costs[1].wall), costs[1].runs, seconds(costs[0].wall))
		b.table.add(size(bytes)+" web-ifc / check, processor time", costs[1].cpu/costs[0].cpu, target{}, "%s / %s", seconds(costs[1].cpu), seconds(costs[0].cpu))
		b.table.add(size(bytes)+" web-ifc / check, peak memory", costs[1].peak/costs[0].peak, target{}, "%s / %s", size(costs[1].peak), size(costs[0].peak))
	}
	return nil
}
