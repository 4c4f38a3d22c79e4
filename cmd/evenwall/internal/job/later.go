package job

import (
	"regexp"
	"slices"
	"strings"
)

// later are the keys of the format that this version refuses by name, as paths without list
// places; anodes under stations count as anodes. Whoever makes one work removes it.
var later = []string{"tank.sides"}

var listPlace = regexp.MustCompile(`\[\d+\]`)

// general drops list places from a path, and the stations around anodes.
func general(path string) string {
	return strings.TrimPrefix(listPlace.ReplaceAllString(path, ""), "stations.")
}

// notYet reports whether the key at path is one to come.
func notYet(path string) bool { return slices.Contains(later, general(path)) }

// laterKeys returns the keys to come of the group at path.
func laterKeys(path string) []string {
	var keys []string
	for _, l := range later {
		if group, key, _ := strings.Cut(l, "."); group == general(path) {
			keys = append(keys, key)
		}
	}
	return keys
}
