package bcf

import "strings"

// Version is a version of the format.
type Version int

const (
	V21 Version = iota // 2.1, which most programs read
	V30                // 3.0
)

func (v Version) String() string {
	if v == V30 {
		return "3.0"
	}
	return "2.1"
}

// ParseVersion reads "2.1" or "3.0".
func ParseVersion(s string) (Version, bool) {
	switch strings.TrimSpace(s) {
	case "2.1":
		return V21, true
	case "3.0":
		return V30, true
	}
	return V21, false
}
