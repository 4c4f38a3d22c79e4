package topology

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// tetrahedron is the smallest closed surface: 4 corners, 6 edges, 4 facets.
func tetrahedron() geometry.Mesh {
	return geometry.Mesh{
		Vertices: []geometry.Vec{{X: 0}, {X: 1}, {Y: 1}, {Z: 1}},
		Faces:    [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
	}
}

func TestClosedSurfaceHasNoFaults(t *testing.T) {
	m := tetrahedron()
	edges := Edges(&m)
	assert.Len(t, edges, 6)
	assert.Zero(t, FaultsOf(edges))
	assert.Empty(t, Loops(edges))
	_, shells := Shells(edges, len(m.Faces))
	assert.Equal(t, 1, shells)
}

func TestEachFaultIsCounted(t *testing.T) {
	flipped := tetrahedron()
	flipped.Faces[3] = [3]int32{1, 3, 2}
	assert.Equal(t, Faults{Flipped: 3}, FaultsOf(Edges(&flipped)), "one facet turned: its three sides")

	doubled := tetrahedron()
	doubled.Faces = append(doubled.Faces, doubled.Faces[0])
	assert.Equal(t, Faults{Crowded: 3}, FaultsOf(Edges(&doubled)))

	open := tetrahedron()
	open.Faces = open.Faces[:3]
	assert.Equal(t, Faults{Open: 3}, FaultsOf(Edges(&open)))
}

func TestShellsAreNumberedByFirstFacet(t *testing.T) {
	m := tetrahedron()
	m.Append(tetrahedron())
	shell, count := Shells(Edges(&m), len(m.Faces))
	assert.Equal(t, 2, count)
	assert.Equal(t, []int32{0, 0, 0, 0, 1, 1, 1, 1}, shell)
}

func TestLoopRunsClockwiseRoundAHoleSeenFromOutside(t *testing.T) {
	m := tetrahedron()
	m.Faces = m.Faces[:3] // without {1, 2, 3}, whose normal is (1, 1, 1)
	loops := Loops(Edges(&m))
	require.Len(t, loops, 1)
	assert.Equal(t, 3, loops[0].Along)
	v := loops[0].Vertices
	turn := geometry.Triangle{A: m.Vertices[v[0]], B: m.Vertices[v[1]], C: m.Vertices[v[2]]}.AreaVector()
	assert.Less(t, turn.Dot(geometry.V(1, 1, 1)), 0.0)
}

// Two triangles that share only a corner bound two holes touching there when seen as
// one open sheet: two loops of three, not one of six.
func TestLoopsAreSplitWhereTheyTouch(t *testing.T) {
	m := geometry.Mesh{
		Vertices: []geometry.Vec{{}, {X: 1}, {Y: 1}, {X: -1}, {Y: -1}},
		Faces:    [][3]int32{{0, 1, 2}, {0, 3, 4}},
	}
	loops := Loops(Edges(&m))
	require.Len(t, loops, 2)
	assert.Len(t, loops[0].Vertices, 3)
	assert.Len(t, loops[1].Vertices, 3)
}
