package screen

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"embedcheck/internal/atomicfile"
)

// Call is what a run was asked for. It lies in the folder of the results while
// the run is on its way, so that one that was interrupted can go on.
type Call struct {
	Schema    int               `json:"schema"`
	From      string            `json:"working_folder"`
	Arguments []string          `json:"arguments"`
	Flags     map[string]string `json:"flags"`
}

const callFile = Tables + ".run.json"

// ErrNoCall says that no run was interrupted in a folder.
var ErrNoCall = errors.New("no run was interrupted there")

// Begin keeps the call in dir.
func (c *Call) Begin(dir string) error {
	c.Schema = schema
	var err error
	if c.From, err = os.Getwd(); err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	if err := atomicfile.Sweep(dir); err != nil {
		return err
	}
	return atomicfile.Write(filepath.Join(dir, callFile), asJSON(c))
}

// End says that the run is done.
func End(dir string) error { return os.Remove(filepath.Join(dir, callFile)) }

// Interrupted is the call of the run that was interrupted in dir. Its paths
// count from the folder that it was made in, which has to be the working folder.
func Interrupted(dir string) (*Call, error) {
	path := filepath.Join(dir, callFile)
	data, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("%s: %w", dir, ErrNoCall)
	}
	if err != nil {
		return nil, err
	}
	c := &Call{}
	if err := json.Unmarshal(data, c); err != nil || c.Schema != schema || len(c.Arguments) == 0 {
		return nil, fmt.Errorf("%s: is no record of a run; name the files again", path)
	}
	here, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	if here != c.From {
		return nil, fmt.Errorf("the run was started in %s; go on there, or name the files again", c.From)
	}
	return c, nil
}
