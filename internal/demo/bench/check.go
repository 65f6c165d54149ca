package main

import "fmt"

// startMemory is what the program may need besides the model: 16 MiB.
const startMemory = 16 << 20

// benchCheck measures whole checks, as a user calls them, without files written.
func benchCheck(b *bench) error {
	tools := []string{"wc", "sha256sum"}
	var sizes []float64
	var whole []cost
	for _, n := range b.sizes {
		path, bytes, err := b.model(n)
		if err != nil {
			return err
		}
		commands := []command{b.program("check", path)}
		var names []string
		for _, t := range tools {
			if missing(t) != "" {
				b.table.skip("check / "+t, "%s is not on this machine", t)
				continue
			}
			names = append(names, t)
			commands = append(commands, counter(t, path))
		}
		costs, err := b.inTurns(commands...)
		if err != nil {
			return err
		}
		for i, t := range names {
			b.table.against(costs[0], costs[i+1], size(bytes), "check", t)
		}
		b.table.memory(costs[0], bytes)
		sizes, whole = append(sizes, bytes), append(whole, costs[0])
	}
	b.table.growths(whole, sizes)
	return nil
}

func counter(tool, path string) command {
	args := []string{tool, path}
	if tool == "wc" {
		args = []string{tool, "-l", path}
	}
	return command{name: tool, args: args}
}

// whole is what a check may take, as a multiple of the tool's time.
var wholeTargets = map[string]target{"check/wc": atMost(15).to(10), "index/wc": atMost(3.5)}

func (t *table) against(a, by cost, bytes, what, tool string) {
	command := tool
	if tool == "wc" {
		command = "wc -l"
	}
	t.add(fmt.Sprintf("%s %s / %s", bytes, what, command), a.wall/by.wall, wholeTargets[what+"/"+tool], "%s / %s", seconds(a.wall), seconds(by.wall))
	t.add(fmt.Sprintf("%s %s / %s, processor time", bytes, what, command), a.cpu/by.cpu, target{}, "%s / %s", seconds(a.cpu), seconds(by.cpu))
}

func (t *table) memory(c cost, bytes float64) {
	t.add(size(bytes)+" (peak memory - 16 MiB) / file", (c.peak-startMemory)/bytes, atMost(1.8).to(1.2), "%s peak, %.2f x file in all", size(c.peak), c.peak/bytes)
}

// growths are the exponents from each size to the next and over all of them.
func (t *table) growths(costs []cost, sizes []float64) {
	add := func(i, k int) {
		s := [2]float64{sizes[i], sizes[k]}
		what := fmt.Sprintf("growth from %s to %s, exponent", size(s[0]), size(s[1]))
		t.add(what, growth([2]float64{costs[i].wall, costs[k].wall}, s), atMost(1.05), "%s, %s", seconds(costs[i].wall), seconds(costs[k].wall))
		t.add(what+", processor time", growth([2]float64{costs[i].cpu, costs[k].cpu}, s), target{}, "%s, %s", seconds(costs[i].cpu), seconds(costs[k].cpu))
	}
	for i := 1; i < len(sizes); i++ {
		add(i-1, i)
	}
	if len(sizes) > 2 {
		add(0, len(sizes)-1)
	}
}

// benchIndex measures the first pass over a file alone, in a process that does
// nothing else.
func benchIndex(b *bench) error {
	if t := missing("wc"); t != "" {
		b.table.skip("index / wc -l", "%s is not on this machine", t)
		return nil
	}
	for _, n := range b.sizes {
		path, bytes, err := b.model(n)
		if err != nil {
			return err
		}
		costs, err := b.inTurns(b.own("index", "0", path), counter("wc", path))
		if err != nil {
			return err
		}
		b.table.against(costs[0], costs[1], size(bytes), "index", "wc")
	}
	return nil
}
