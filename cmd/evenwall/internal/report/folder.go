package report

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/google/renameio/v2"
)

const (
	ResultFile = "result.json"
	WallFile   = "wall.csv"
	LayoutFile = "layout.yaml"
	SheetFile  = "sheet.pdf"

	LogPicture   = "log.png"
	ReadingsFile = "readings.csv"

	CompareFile       = "compare.csv"
	ComparePicture    = "compare.png"
	DifferencePicture = "difference.png"
)

// ownFiles are the names that the program writes, and so may remove: result.json
// first, so that a folder without it is never taken for a finished one.
func ownFiles() []string {
	return []string{ResultFile, WallFile, LayoutFile, SheetFile, ReadingsFile, LogPicture,
		CompareFile, ComparePicture, DifferencePicture,
		"wall.png", "section.png", "clearance.png", "air.png", "charge.png", "tank.png"}
}

// Folder is where a command's files go.
type Folder struct {
	Dir  string
	keep []string // files of the program's own names that are jobs at work
	made bool     // by Prepare
}

// WriteError says that a file or folder could not be written.
type WriteError struct {
	Path string
	Err  error
}

func (e *WriteError) Error() string {
	return fmt.Sprintf("%s cannot be written: %v: free it, or give another folder with -o", e.Path, cause(e.Err))
}

// Unwrap returns the cause.
func (e *WriteError) Unwrap() error { return e.Err }

// cause drops the operation and the path that the system repeats.
func cause(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}

// BesideJob returns the default folder of a job: beside it, named after it.
func BesideJob(job string) string {
	name := strings.TrimSuffix(job, filepath.Ext(job))
	if name == job {
		return job + ".out"
	}
	return name
}

// Prepare makes the folder dir, or takes it as it is, and removes what the program
// left there before; other files stay, and so do the job files themselves. It fails with
// a *WriteError when the folder cannot be written to.
func Prepare(dir string, jobs ...string) (*Folder, error) {
	f := &Folder{Dir: dir}
	if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
		f.made = true
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, &WriteError{dir, err}
	}
	if err := f.probe(); err != nil {
		return nil, &WriteError{dir, err}
	}
	for _, name := range ownFiles() {
		path := filepath.Join(dir, name)
		if slices.ContainsFunc(jobs, func(job string) bool { return sameFile(path, job) }) {
			f.keep = append(f.keep, name)
			continue
		}
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, &WriteError{path, err}
		}
	}
	return f, nil
}

// probe finds out before the work whether a file can be made.
func (f *Folder) probe() error {
	t, err := renameio.TempFile(f.Dir, filepath.Join(f.Dir, ResultFile))
	if err != nil {
		return err
	}
	return t.Cleanup()
}

func sameFile(a, b string) bool {
	first, errFirst := os.Stat(a)
	second, errSecond := os.Stat(b)
	return errFirst == nil && errSecond == nil && os.SameFile(first, second)
}

// Write writes a file whole or not at all. Only names that the program knows as its
// own are written, and never over the job itself.
func (f *Folder) Write(name string, data []byte) error {
	path := filepath.Join(f.Dir, name)
	switch {
	case !slices.Contains(ownFiles(), name):
		return &WriteError{path, errors.New("it is no file of this program's own")}
	case slices.Contains(f.keep, name):
		return &WriteError{path, errors.New("it is a job at work")}
	}
	return WriteWhole(path, data)
}

// WriteWhole writes a file whole or not at all.
func WriteWhole(path string, data []byte) error {
	if err := renameio.WriteFile(path, data, 0o644, renameio.WithTempDir(filepath.Dir(path))); err != nil {
		return &WriteError{path, err}
	}
	return nil
}

// WriteApart writes a file where the reader asked for it, whole or not at all, and never
// over one of those to keep.
func WriteApart(path string, data []byte, keep ...string) error {
	for _, k := range keep {
		if k != "" && sameFile(path, k) {
			return &WriteError{path, errors.New("the job reads it: name another file")}
		}
	}
	return WriteWhole(path, data)
}

// Discard removes the folder again if Prepare made it and nothing was written to it.
func (f *Folder) Discard() {
	if f.made {
		_ = os.Remove(f.Dir) // fails, as it should, when something is in it
	}
}
