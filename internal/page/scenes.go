package page

import (
	"fmt"
	"io"

	"embedcheck/internal/finding"
)

// mostPerScene is how many findings of one host share a scene: more would be
// long in coming.
const mostPerScene = 256

// writeScenes writes the bodies around the findings, compressed, beside the
// sheets: a browser unpacks those of a finding when somebody looks at it. A
// scene is of whole hosts, whose bodies are in it once.
func (v *view) writeScenes(w io.Writer) error {
	if v.Views.Scene == nil {
		return nil
	}
	groups := v.sceneGroups()
	return inOrder(len(groups), func(i int) ([]byte, error) {
		return v.scenePack(groups[i])
	}, func(i int, data []byte) error {
		return writeData(w, fmt.Sprintf(`data-scene="%d"`, groups[i][0].Index), data)
	})
}

// sceneGroups are the rows of each scene: hosts are put together until they have
// as many findings as a package of sheets.
func (v *view) sceneGroups() [][]*row {
	var groups [][]*row
	from := 0
	for i, r := range v.rows {
		n := i - from
		if n >= mostPerScene || n >= perPack && r.Host != v.rows[i-1].Host {
			groups = append(groups, v.rows[from:i])
			from = i
		}
	}
	if from < len(v.rows) {
		groups = append(groups, v.rows[from:])
	}
	return groups
}

func (v *view) scenePack(rows []*row) ([]byte, error) {
	list := make([]*finding.Finding, len(rows))
	for i, r := range rows {
		list[i] = r.F
	}
	data, err := v.Views.Scene(list)
	if err != nil {
		return nil, fmt.Errorf("view of finding %s and those after it: %w", list[0].ID, err)
	}
	return squeeze(data)
}
