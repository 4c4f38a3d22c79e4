package stlfile

import (
	"fmt"
	"strings"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// Report says what was found in a file and what was done about it. All counts but
// Facets, Degenerate and Doubled are of the mesh as returned.
type Report struct {
	Text       bool    // the file is text (ASCII), not binary
	Facets     int     // facets in the file
	Degenerate int     // facets without area, dropped
	Doubled    int     // facets with the corners of an earlier one, dropped
	Vertices   int     // corners after welding
	Weld       float64 // distance within which corners were made one, m
	Welded     int     // corners that differed in the file and were made one
	Shells     int     // connected pieces
	Faults     topology.Faults
	Size       geometry.Vec // of the box around it, m
}

// IsClosed reports whether the surface encloses space without a gap or a branch.
func (r Report) IsClosed() bool { return r.Faults.Open == 0 && r.Faults.Crowded == 0 }

// IsEven reports whether all neighbours agree on which side is out.
func (r Report) IsEven() bool { return r.Faults.Flipped == 0 }

// String says it in one line of plain words.
func (r Report) String() string {
	parts := []string{
		count(r.Facets, "facet", "facets"), count(r.Shells, "piece", "pieces"),
		fmt.Sprintf("%.1f x %.1f x %.1f mm", r.Size.X*1000, r.Size.Y*1000, r.Size.Z*1000),
	}
	if r.IsClosed() {
		parts = append(parts, "closed")
	}
	for _, f := range []struct {
		n         int
		one, many string
	}{
		{r.Faults.Open, "open edge", "open edges"},
		{r.Faults.Crowded, "edge of more than two facets", "edges of more than two facets"},
		{r.Faults.Flipped, "edge between facets turned against each other", "edges between facets turned against each other"},
		{r.Degenerate, "facet without area dropped", "facets without area dropped"},
		{r.Doubled, "doubled facet dropped", "doubled facets dropped"},
	} {
		if f.n > 0 {
			parts = append(parts, count(f.n, f.one, f.many))
		}
	}
	return strings.Join(parts, ", ")
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
