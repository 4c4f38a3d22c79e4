package job

import (
	"regexp"
	"strings"
)

// later is a key of the format that this version refuses by name, unless it has the
// one value that changes nothing.
type later struct {
	key    string // path without list places; anodes under stations count as anodes
	unless string // the value that is taken, because it is the default; "" for none
}

func (l later) or() string {
	if l.unless == "" {
		return ""
	}
	return " or give " + l.unless
}

// laterTable is the one list of keys to come: whoever makes one work removes its row.
var laterTable = []later{
	{"tank.sides", ""},
	{"search.robust", "false"},
}

var listPlace = regexp.MustCompile(`\[\d+\]`)

// general drops list places from a path, and the stations around anodes.
func general(path string) string {
	return strings.TrimPrefix(listPlace.ReplaceAllString(path, ""), "stations.")
}

func notYet(path string) (later, bool) {
	for _, l := range laterTable {
		if l.key == general(path) {
			return l, true
		}
	}
	return later{}, false
}

// laterKeys returns the keys to come of the group at path.
func laterKeys(path string) []string {
	var keys []string
	for _, l := range laterTable {
		if group, key, _ := strings.Cut(l.key, "."); group == general(path) {
			keys = append(keys, key)
		}
	}
	return keys
}
