package screen

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"embedcheck/internal/finding"
)

// File is one model to be screened.
type File struct {
	Path   string // as given, or found below the folder that was given
	Folder string // of its results, below the folder of all results; with slashes
	Size   int64  // bytes
}

// Find lists the files that the arguments name, in the order of people: a
// folder stands for the models in it and below it, a pattern for what it
// matches, anything else for itself. Two files whose results would go to one
// folder are an error, as is an argument that names nothing.
func Find(args []string) ([]File, error) {
	var out []File
	for _, a := range args {
		paths, err := expand(a)
		if err != nil {
			return nil, err
		}
		for _, p := range paths {
			files, err := below(p)
			if err != nil {
				return nil, err
			}
			if len(files) == 0 {
				return nil, fmt.Errorf("%s: no model is in this folder; models end in .ifc, .ifcxml or .ifczip", finding.Plain(p))
			}
			out = append(out, files...)
		}
	}
	slices.SortStableFunc(out, func(a, b File) int { return finding.Natural(a.Path, b.Path) })
	out = slices.CompactFunc(out, func(a, b File) bool { return a.Path == b.Path })
	return out, apart(out)
}

// expand is the argument itself when there is such a file or folder, else what
// it matches as a pattern.
func expand(arg string) ([]string, error) {
	if _, err := os.Stat(arg); err == nil {
		return []string{arg}, nil
	} else if !strings.ContainsAny(arg, "*?[") {
		return nil, err
	}
	paths, err := filepath.Glob(arg)
	if err != nil {
		return nil, fmt.Errorf("%q: %w", arg, err)
	}
	if len(paths) == 0 {
		return nil, fmt.Errorf("%q: matches no file", arg)
	}
	return paths, nil
}

// below is a file itself, or the models in a folder and below it. Links to
// folders are not followed: they may lead round in a circle.
func below(root string) ([]File, error) {
	info, err := os.Stat(root)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		return []File{{filepath.Clean(root), filepath.Base(root), info.Size()}}, nil
	}
	var out []File
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		hidden := strings.HasPrefix(d.Name(), ".") && path != root
		if d.IsDir() {
			if hidden {
				return fs.SkipDir
			}
			return nil
		}
		if hidden || !IsModel(path) {
			return nil
		}
		var size int64 // a link that leads nowhere is a file that cannot be read: its line will say so
		if info, err := os.Stat(path); err == nil {
			if info.IsDir() {
				return nil
			}
			size = info.Size()
		}
		rel, err := filepath.Rel(root, path)
		out = append(out, File{path, filepath.ToSlash(rel), size})
		return err
	})
	return out, err
}

// IsModel reports whether a file is a model by the ending of its name. A file
// that is named is read whatever its ending; in a folder only these count.
func IsModel(path string) bool {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".ifc", ".ifcxml", ".ifczip":
		return true
	}
	return false
}

// apart refuses files whose results would lie in one folder, also where the
// disk does not tell upper from lower case, and where the tables go.
func apart(files []File) error {
	taken := map[string]string{}
	for _, f := range files {
		k := strings.ToLower(f.Folder)
		if first, ok := taken[k]; ok {
			return fmt.Errorf("the results of %s and %s would go to one folder, %s; name the folder that holds both, or screen them one after the other to folders of their own",
				finding.Plain(first), finding.Plain(f.Path), finding.Plain(f.Folder))
		}
		if strings.HasPrefix(k, Tables+".") && !IsModel(k) {
			return fmt.Errorf("%s: a file of this name is where the tables go; name it otherwise", finding.Plain(f.Path))
		}
		taken[k] = f.Path
	}
	return nil
}

// Tables is the name, without its ending, of what is written beside the folders
// of the files.
const Tables = "screen"
