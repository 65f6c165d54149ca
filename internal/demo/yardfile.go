package demo

import (
	"bufio"
	"errors"
	"os"
	"path/filepath"
)

// WriteFile writes the model to a file.
func (y Yard) WriteFile(path string) (Tally, error) {
	f, err := os.Create(path)
	if err != nil {
		return Tally{}, err
	}
	w := bufio.NewWriterSize(f, 1<<20)
	sum, err := y.Write(w)
	return sum, errors.Join(err, w.Flush(), f.Close())
}

// WritePanels writes each panel of the yard to a file of its own in a folder.
func (y Yard) WritePanels(dir string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	for n := range y.Panels {
		name, model, _ := y.Panel(n)
		if err := os.WriteFile(filepath.Join(dir, name), model, 0o666); err != nil {
			return err
		}
	}
	return nil
}
