package stlfile

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"

	"github.com/hschendel/stl"
)

// A binary file is a header, a count and facets of a fixed length; a file of more
// facets than mostFacets is refused.
const (
	headerBytes = 84
	facetBytes  = 50
	mostFacets  = 20_000_000
)

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
