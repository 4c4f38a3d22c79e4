package stlfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// FileError says what is wrong with a file and the way out.
type FileError struct {
	Path  string
	Cause error
}

// Error implements error.
func (e *FileError) Error() string { return fmt.Sprintf("%s: %v", e.Path, e.Cause) }

// Unwrap returns the cause.
func (e *FileError) Unwrap() error { return e.Cause }

// Read returns the surface in the file, binary or text, whose numbers count unit, in
// metres. Corners that lie within Report.Weld of each other are made one; facets
// without area and repeated facets are dropped. Facets are left as they are turned.
// Every error is a *FileError. The file is read as a whole: the memory taken is some
// times the file's size.
func Read(path string, unit Unit) (geometry.Mesh, Report, error) {
	data, err := load(path)
	if err == nil {
		var m geometry.Mesh
		var r Report
		if m, r, err = Parse(data, unit); err == nil {
			return m, r, nil
		}
	}
	return geometry.Mesh{}, Report{}, &FileError{path, err}
}

func load(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("there is no such file: check the name, it counts from the folder of the job file (%w)", fs.ErrNotExist)
	case err != nil:
		return nil, fmt.Errorf("cannot be opened: %w", bare(err))
	case info.IsDir():
		return nil, errors.New("is a folder: name the STL file in it")
	case info.Size() > headerBytes+mostFacets*5*facetBytes:
		return nil, fmt.Errorf("holds %d MB: export it coarser, with at most %d million facets", info.Size()>>20, mostFacets/1_000_000)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("cannot be read: %w", bare(err))
	}
	return data, nil
}

// bare takes the path, which FileError names, off an error of the file system.
func bare(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// Parse is Read for the bytes of a file; its errors do not name it.
func Parse(data []byte, unit Unit) (geometry.Mesh, Report, error) {
	if unit.Metres() == 0 {
		return geometry.Mesh{}, Report{}, errors.New("no unit is given: say whether its numbers are mm, cm, m or in")
	}
	corners, text, err := facets(data)
	if err != nil {
		return geometry.Mesh{}, Report{}, err
	}
	bounds, err := boundsOf(corners, unit)
	if err != nil {
		return geometry.Mesh{}, Report{}, err
	}
	report := Report{Text: text, Facets: len(corners) / 3, Size: bounds.Size()}
	m := weld(corners, unit, bounds, &report)
	edges := topology.Edges(&m)
	report.Faults = topology.FaultsOf(edges)
	_, report.Shells = topology.Shells(edges, len(m.Faces))
	dropLines(&m, &report)
	if len(m.Faces) == 0 {
		return geometry.Mesh{}, Report{}, fmt.Errorf("none of its %d facets has an area: export it again", report.Facets)
	}
	return m, report, nil
}
