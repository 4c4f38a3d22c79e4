package stlfile

import (
	"math"

	"github.com/hschendel/stl"

	"evenwall/geometry"
)

// weldShare is the part of a surface's diagonal within which corners are one: above
// what a text of six digits or a float32 loses, far below any facet.
const weldShare = 2e-6

// weld joins equal corners, then those within report.Weld of each other, and drops
// facets that lose a corner by it or repeat an earlier one.
func weld(corners []stl.Vec3, unit Unit, bounds geometry.Box, report *Report) geometry.Mesh {
	report.Weld = weldShare * math.Max(bounds.Size().Norm(), 0.1*math.Max(bounds.Max.Norm(), bounds.Min.Norm()))
	index, points := distinct(corners, unit)
	target, welded := mergeNear(points, report.Weld)
	report.Welded = welded

	m := geometry.Mesh{Vertices: points, Faces: make([][3]int32, 0, len(corners)/3)}
	for i := 0; i+2 < len(index); i += 3 {
		f := [3]int32{target[index[i]], target[index[i+1]], target[index[i+2]]}
		if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
			report.Degenerate++
			continue
		}
		m.Faces = append(m.Faces, f)
	}
	dropDoubled(&m, report)
	return m
}

func dropDoubled(m *geometry.Mesh, report *Report) {
	twice := doubled(m.Faces, len(m.Vertices))
	kept := m.Faces[:0]
	for i, f := range m.Faces {
		if twice[i] {
			report.Doubled++
			continue
		}
		kept = append(kept, f)
	}
	m.Faces = kept
}

// dropLines drops the facets whose three corners lie on one line, which have their
// part in how the others hang together but no area, and the corners that no facet has.
func dropLines(m *geometry.Mesh, report *Report) {
	kept := m.Faces[:0]
	for i, f := range m.Faces {
		if isLine(m.Triangle(i), report.Weld) {
			report.Degenerate++
			continue
		}
		kept = append(kept, f)
	}
	m.Faces = kept
	m.Vertices = compact(m.Vertices, m.Faces)
	report.Vertices = len(m.Vertices)
}

// distinct numbers the corners, those with the same coordinates alike, in the order in
// which they first stand in the file.
func distinct(corners []stl.Vec3, unit Unit) (index []int32, points []geometry.Vec) {
	index = make([]int32, len(corners))
	known := newTable(len(corners))
	for i, c := range corners {
		var k key
		for axis := range c {
			k[axis] = int64(math.Float32bits(c[axis] + 0)) // -0 and 0 are one key
		}
		id := known.last(k)
		if id < 0 {
			id = known.file(k)
			points = append(points, metres(c, unit))
		}
		index[i] = id
	}
	return index, points
}

// mergeNear returns for each point the first point within reach of it.
func mergeNear(points []geometry.Vec, reach float64) (target []int32, merged int) {
	target = make([]int32, len(points))
	grid := newGrid(len(points), 16*reach)
	for i, p := range points {
		target[i] = grid.findOrAdd(int32(i), p, reach)
		if target[i] != int32(i) {
			merged++
		}
	}
	return target, merged
}

// isLine reports whether the facet is no higher than a thousandth of reach.
func isLine(t geometry.Triangle, reach float64) bool {
	longest := math.Max(t.A.Dist(t.B), math.Max(t.B.Dist(t.C), t.C.Dist(t.A)))
	return 2*t.Area() <= 1e-3*reach*longest
}

// compact renumbers the faces to the points that they use and returns those.
func compact(points []geometry.Vec, faces [][3]int32) []geometry.Vec {
	number := make([]int32, len(points))
	for i := range number {
		number[i] = -1
	}
	var out []geometry.Vec
	for i := range faces {
		for k, v := range faces[i] {
			if number[v] < 0 {
				number[v] = int32(len(out))
				out = append(out, points[v])
			}
			faces[i][k] = number[v]
		}
	}
	return out
}
