package bcf

import (
	"strings"

	"github.com/google/uuid"
)

// space is the name space of the topics' GUIDs. It must never change: an issue
// list would meet its own earlier topics as strangers.
var space = uuid.NewSHA1(uuid.NameSpaceURL, []byte("urn:embedcheck:finding"))

// TopicGUID is the GUID of the topic about a finding: name-based (RFC 9562,
// version 5), so that the same finding is the same topic in every release.
func TopicGUID(findingID string) string {
	return uuid.NewSHA1(space, []byte(findingID)).String()
}

// derivedGUID is a GUID for a part of a topic.
func derivedGUID(topic, name string) string {
	ns, err := uuid.Parse(topic)
	if err != nil {
		ns = uuid.NewSHA1(space, []byte(topic))
	}
	return uuid.NewSHA1(ns, []byte(name)).String()
}

// isGUID reports whether s is a GUID as the XSDs have it, in either case.
func isGUID(s string) bool {
	if len(s) != 36 {
		return false
	}
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch i {
		case 8, 13, 18, 23:
			if c != '-' {
				return false
			}
		default:
			if !strings.ContainsRune("0123456789abcdefABCDEF", rune(c)) {
				return false
			}
		}
	}
	return true
}

// isGlobalID reports whether s is a GlobalId as the XSDs have it; viewers find
// elements by no other.
func isGlobalID(s string) bool {
	if len(s) != 22 {
		return false
	}
	for i := 0; i < len(s); i++ {
		c := s[i]
		if !('0' <= c && c <= '9' || 'A' <= c && c <= 'Z' || 'a' <= c && c <= 'z' || c == '_' || c == '$') {
			return false
		}
	}
	return true
}
