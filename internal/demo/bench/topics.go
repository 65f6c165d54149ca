package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
)

// topicsOfPanel is how many findings a panel of the yard gives when every edge
// within topicReach mm is too near.
const (
	topicsOfPanel = 14
	topicReach    = 1400
)

// benchTopics measures what writing the issue list, the findings and the page
// takes: a check that writes them, less the same check that does not.
func benchTopics(b *bench) error {
	set := filepath.Join(b.temp, "topics.json")
	if err := os.WriteFile(set, fmt.Appendf(nil, `{"name":"many topics","rules":{"edge-distance":{"min":{"mm":%d}}}}`, topicReach), 0o666); err != nil {
		return err
	}
	var peaks, counts []float64
	for _, n := range b.topics {
		panels := (n + topicsOfPanel - 1) / topicsOfPanel
		path, _, err := b.made(fmt.Sprintf("panels-%d.ifc", panels), "row", strconv.Itoa(panels))
		if err != nil {
			return err
		}
		out, err := b.scratch("topics")
		if err != nil {
			return err
		}
		costs, err := b.inTurns(b.program("check", "--rules", set, path), b.program("check", "--rules", set, "--out", out, path))
		if err != nil {
			return err
		}
		topics, err := countFindings(filepath.Join(out, "findings.json"))
		if err != nil {
			return err
		}
		b.table.topics(topics, costs[0], costs[1])
		peaks, counts = append(peaks, costs[1].peak-costs[0].peak), append(counts, topics)
	}
	for i := 1; i < len(peaks); i++ {
		each := (peaks[i] - peaks[i-1]) / (counts[i] - counts[i-1])
		b.table.add(fmt.Sprintf("memory for each topic from %.0f to %.0f, KiB", counts[i-1], counts[i]), each/1024, target{},
			"writing needs %s and %s over the check", size(peaks[i-1]), size(peaks[i]))
	}
	return nil
}

func (t *table) topics(n float64, without, with cost) {
	t.add(fmt.Sprintf("%.0f topics, written / checked", n), with.wall/without.wall, target{}, "%s / %s; %s processor time, %s peak", seconds(with.wall), seconds(without.wall), seconds(with.cpu), size(with.peak))
	t.add(fmt.Sprintf("%.0f topics, seconds for 2000 of them", n), (with.wall-without.wall)*2000/n, atMost(60), "%s each", seconds((with.wall-without.wall)/n))
	each := (with.cpu - without.cpu) / n
	t.add(fmt.Sprintf("%.0f topics, processor seconds for 2000 of them over the cores", n), each*2000/float64(runtime.NumCPU()), target{}, "%s each", seconds(each))
}

func countFindings(path string) (float64, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return 0, err
	}
	var run struct{ Findings []json.RawMessage }
	err = json.Unmarshal(data, &run)
	return float64(len(run.Findings)), err
}
