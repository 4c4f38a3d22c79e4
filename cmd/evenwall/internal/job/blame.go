package job

import (
	"errors"
	"os"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/parser"
)

// Blame returns faults that only came out in the work, with the lines of their keys,
// such as anodes[0].tip, or of the nearest key around them that the file has. Without
// faults it returns nil. The file is read once more for the lines.
func (j *Job) Blame(faults ...Fault) error {
	if len(faults) == 0 {
		return nil
	}
	if j.Path == "" {
		return errors.New((&FaultsError{File: "job", Faults: faults}).Error())
	}
	for i := range faults {
		faults[i].Line = lineOfKey(j.Path, faults[i].Key)
	}
	return &FaultsError{File: j.Path, Faults: faults}
}

// lineOfKey returns the line of a key in the file at path, 0 when it cannot be told.
func lineOfKey(path, key string) int {
	text, err := os.ReadFile(path)
	if err != nil {
		return 0
	}
	file, err := parser.ParseBytes(text, 0)
	if err != nil {
		return 0
	}
	for ; key != ""; key = around(key) {
		at, err := yaml.PathString("$." + key)
		if err != nil {
			return 0
		}
		if node, err := at.FilterFile(file); err == nil && node != nil {
			return lineOf(node, 0)
		}
	}
	return 0
}

// around returns the key that holds a key, "" at the top.
func around(key string) string { return key[:max(strings.LastIndexAny(key, ".["), 0)] }
