package job

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"sort"
	"strings"
)

// Fault is one thing wrong in a job file.
type Fault struct {
	Line int    // in the file, from 1; 0 when no line is to blame
	Key  string // as a path, such as tank.openings[0].diameter; "" for the whole file
	Text string // cause, value and way out
}

// FaultsError carries everything that is wrong with a job file, in the order of its lines.
type FaultsError struct {
	File   string
	Faults []Fault
}

// Error gives a line for each fault: file, line, key, text.
func (e *FaultsError) Error() string {
	rows := make([]string, len(e.Faults))
	for i, f := range e.Faults {
		where := filepath.Base(e.File)
		if f.Line > 0 {
			where = fmt.Sprintf("%s:%d", where, f.Line)
		}
		if f.Key != "" {
			where += ": " + f.Key
		}
		rows[i] = where + ": " + f.Text
	}
	return strings.Join(rows, "\n")
}

func unreadable(path string, err error) error {
	text := "cannot be read: " + err.Error()
	switch {
	case errors.Is(err, fs.ErrNotExist):
		text = "there is no such file: check the path " + path
	case errors.Is(err, fs.ErrPermission):
		text = "may not be read: check its permissions"
	}
	return &FaultsError{File: path, Faults: []Fault{{Text: text}}}
}

func (r *reader) errorFor(path string) error {
	sort.SliceStable(r.faults, func(i, k int) bool { return r.faults[i].Line < r.faults[k].Line })
	return &FaultsError{File: path, Faults: r.faults}
}
