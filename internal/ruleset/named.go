package ruleset

import (
	"embed"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"embedcheck/rules"
)

//go:embed sets
var setFiles embed.FS

// Named is a built-in alternative: the limits that a family of standards
// supports, over the general ones, and what it leaves to others.
type Named struct {
	Name  string
	Title string
	Notes []string // what the standards leave to the data of a product, and what else to know
}

// productNote is what all families have in common.
const productNote = "Lifting inserts: edge distance, spacing, thickness and the bars around them are the data of the component. A table by item type is needed: state it under \"for\" of a rule file, with its source."

// NamedSets are all of them, sorted by name.
var NamedSets = []Named{
	{
		Name: "aci318-19", Title: "ACI 318-19, cast-in anchors",
		Notes: []string{
			"\"Torqued\" is not defined by the code: bolts and sockets are taken as torqued, studs and the studs of plates as not.",
			"The edge distance of anchors that are not torqued is the specified cover, to the surface of the anchor: state the project's cover plus half a diameter; the general limit stands until then.",
			"The code has no least embedment depth and no least thickness for cast-in anchors: the general limits stand, which are rules of thumb.",
			productNote,
		},
	},
	{
		Name: "as-practice", Title: "Practice with AS 3600, AS 3850 and AS 4100",
		Notes: []string{
			"AS 5216:2018, read in an excerpt, does not cover lifting and bracing inserts, headed fasteners and ferrules (later editions were not read): their edge distance, spacing and depth are the data of the product. A table by item type is needed: state it under \"for\" of a rule file, with its source; the general limits stand until then.",
			"Cover of bars depends on exposure and concrete: 20 mm is that of the mildest class; state the project's.",
			productNote,
		},
	},
	{
		Name: "en1992-4", Title: "EN 1992-4 and EN 1992-1-1, headed fasteners",
		Notes: []string{
			"EN 1992-4 leaves least edge distance, spacing and member thickness of fasteners to the product's European technical specification. A table by item type is needed: state it under \"for\" of a rule file, with its source; the general limits stand until then, and they are not those of EN 1992-4.",
			"Cover for durability depends on exposure: 20 mm is the least of all; state the project's.",
			productNote,
		},
	},
}

// FindNamed is the built-in set with a name; nil when there is none.
func FindNamed(name string) *Named {
	for i := range NamedSets {
		if NamedSets[i].Name == name {
			return &NamedSets[i]
		}
	}
	return nil
}

// File is the set as a rule file.
func (n *Named) File() []byte {
	data, err := fs.ReadFile(setFiles, "sets/"+n.Name+".json")
	if err != nil {
		panic(err) // a test reads all of them
	}
	return data
}

// Set is the set as it is applied.
func (n *Named) Set() *rules.Set {
	set, err := Parse(n.Name+".json", n.File())
	if err != nil {
		panic(err) // a test reads all of them
	}
	return set
}

// Open is the built-in set with that name, or else the rule file at that path. A
// file that is called like a set is reached with its folder: ./en1992-4.
func Open(nameOrPath string) (*rules.Set, error) {
	if n := FindNamed(nameOrPath); n != nil {
		return n.Set(), nil
	}
	set, err := Read(nameOrPath)
	if os.IsNotExist(err) && !strings.ContainsAny(nameOrPath, `/\`) {
		return nil, fmt.Errorf("%q is neither a rule file nor a built-in set%s", nameOrPath, suggest(nameOrPath, SetNames()))
	}
	return set, err
}

// UnknownSet is the error for a name that no built-in set has.
func UnknownSet(name string) error {
	return fmt.Errorf("no built-in set %q%s", name, suggest(name, SetNames()))
}

// SetNames are the names of all built-in sets, sorted.
func SetNames() []string {
	var out []string
	for _, n := range NamedSets {
		out = append(out, n.Name)
	}
	return out
}
