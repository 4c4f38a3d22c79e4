package stlfile

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"strings"

	"github.com/hschendel/stl"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// A binary file is a header, a count and facets of a fixed length; a file of more
// facets than mostFacets is refused.
const (
	headerBytes = 84
	facetBytes  = 50
	mostFacets  = 20_000_000
)

// Sizes outside of which the unit is taken to be wrong, m.
const (
	leastSize = 0.005
	mostSize  = 20.0
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

// facets returns the corners of all facets in the file's own numbers, three a facet.
func facets(data []byte) (corners []stl.Vec3, text bool, err error) {
	switch {
	case len(data) == 0:
		return nil, false, errors.New("is empty: export the surface again")
	case isBinary(data):
		corners, err = decode(data)
	case isText(data):
		text = true
		var lines []byte
		if lines, err = normalised(data); err == nil {
			corners, err = decode(lines)
		}
	default:
		err = brokenBinary(data)
	}
	if err != nil {
		return nil, text, err
	}
	if len(corners) == 0 {
		return nil, text, errors.New("holds no facets: export the surface again, as a mesh")
	}
	return corners, text, nil
}

// isBinary reports whether the count in the header fits the length, which is how a
// binary file is told from a text that also starts with "solid".
func isBinary(data []byte) bool {
	return len(data) >= headerBytes && promised(data) == len(data)
}

// promised returns the length that a binary file's facet count asks for.
func promised(data []byte) int {
	return headerBytes + facetBytes*int(binary.LittleEndian.Uint32(data[80:headerBytes]))
}

// brokenBinary says what is wrong with a file that is neither text nor whole binary.
func brokenBinary(data []byte) error {
	if len(data) < headerBytes {
		return fmt.Errorf("is no STL file: it has %d bytes, the header alone takes %d", len(data), headerBytes)
	}
	want, have := promised(data), len(data)
	switch count := (want - headerBytes) / facetBytes; {
	case count > mostFacets || want > 1000*have:
		return errors.New("is no STL file: name a file with the tank's surface as triangles, exported as STL")
	case have < want:
		return fmt.Errorf("is cut short: it says %d facets and holds %d; copy or export it again", count, (have-headerBytes)/facetBytes)
	default:
		return fmt.Errorf("has %d bytes after its last facet (%d of them): export it again", have-want, count)
	}
}

// gatherer takes facets from the library as they are read.
type gatherer struct{ corners []stl.Vec3 }

func (g *gatherer) SetName(string)            {}
func (g *gatherer) SetBinaryHeader([]byte)    {}
func (g *gatherer) SetASCII(bool)             {}
func (g *gatherer) SetTriangleCount(n uint32) { g.corners = make([]stl.Vec3, 0, 3*int(n)) }
func (g *gatherer) AppendTriangle(t stl.Triangle) {
	g.corners = append(g.corners, t.Vertices[:]...)
}

// decode reads a binary file whose length fits its count, or a normalised text.
func decode(data []byte) ([]stl.Vec3, error) {
	var g gatherer
	if err := stl.CopyAll(bytes.NewReader(data), &g); err != nil {
		return nil, unreadable(err)
	}
	return g.corners, nil
}

// unreadable puts the library's complaint about a text into words. It lists faults as
// "line: fault", and line n of a normalised text is facet n - 1.
func unreadable(err error) error {
	for _, row := range strings.Split(err.Error(), "\n") {
		var line int
		number, fault, found := strings.Cut(row, ": ")
		if _, scanned := fmt.Sscanf(number, "%d", &line); found && scanned == nil {
			return fmt.Errorf("cannot be read: facet %d: %s; export it again, best as binary STL", line-1, strings.ToLower(fault))
		}
	}
	return fmt.Errorf("cannot be read: %w; export it again, best as binary STL", err)
}

// boundsOf returns the box around the corners, m, or an error for numbers that no
// tank's surface can have.
func boundsOf(corners []stl.Vec3, unit Unit) (geometry.Box, error) {
	b := geometry.EmptyBox()
	for i, c := range corners {
		p := metres(c, unit)
		if !p.IsFinite() {
			return b, fmt.Errorf("facet %d has a corner at [%g, %g, %g]: export it again", i/3+1, c[0], c[1], c[2])
		}
		b = b.Include(p)
	}
	s := b.Size()
	if most := math.Max(s.X, math.Max(s.Y, s.Z)); most < leastSize || most > mostSize {
		return b, sizeError(most, unit)
	}
	// A float32 keeps 24 bits: farther away than this the corners are more than 0.1 mm apart.
	far := math.Max(b.Max.Norm(), b.Min.Norm())
	if far*math.Pow(2, -23) > 1e-4 {
		return b, fmt.Errorf("lies %.3g m from its origin, too far for the file's numbers to say its shape: move it to the origin and export again", far)
	}
	return b, nil
}

// sizeError says how long the surface would be in its unit, and in those that would do.
func sizeError(length float64, unit Unit) error {
	var others []string
	for _, u := range units {
		if would := length / unit.Metres() * u.Metres(); would >= leastSize && would <= mostSize {
			others = append(others, fmt.Sprintf("%s (%.4g mm long)", u, would*1000))
		}
	}
	hint := "export it again, with its size in mm"
	if len(others) > 0 {
		hint = "say " + strings.Join(others, " or ")
	}
	return fmt.Errorf("is %.4g mm long when its numbers are %s, no tank: %s", length*1000, unit, hint)
}

func metres(c stl.Vec3, unit Unit) geometry.Vec {
	k := unit.Metres()
	return geometry.Vec{X: float64(c[0]) * k, Y: float64(c[1]) * k, Z: float64(c[2]) * k}
}
