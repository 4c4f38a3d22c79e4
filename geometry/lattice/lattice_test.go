package lattice

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// boxMesh returns a closed box with its low corner at the origin, facets outward.
func boxMesh(x, y, z float64) geometry.Mesh {
	m := geometry.Mesh{Faces: [][3]int32{
		{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
		{2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5},
	}}
	for i := range 8 {
		m.Vertices = append(m.Vertices, geometry.V(x*float64(i&1), y*float64(i>>1&1), z*float64(i>>2)))
	}
	return m
}

func enclose(t *testing.T, m *geometry.Mesh, level, h float64) *Surface {
	l, err := New(Placement{Bounds: m.Bounds(), Level: level, H: h})
	require.NoError(t, err)
	return Enclose(l, m)
}

// A box whose sides are whole numbers of spacings is counted exactly.
func TestInsideOfABoxIsExact(t *testing.T) {
	m := boxMesh(0.2, 0.12, 0.08)
	s := enclose(t, &m, 0.08, 0.004)
	assert.InDelta(t, 0.2*0.12*0.08, s.Volume(), 1e-12)
}

// Turned by odd angles the count is right to the order of a cell layer's scatter, and
// the same whichever way facets wind.
func TestInsideOfATurnedBox(t *testing.T) {
	turn := geometry.RotationAbout(geometry.V(1, 2, 3), 0.7)
	m := boxMesh(0.2, 0.12, 0.08)
	m = m.Transformed(turn.Apply)
	s := enclose(t, &m, 0.1, 0.004)
	assert.InEpsilon(t, 0.2*0.12*0.08, s.Volume(), 0.01)
	for i := range m.Faces {
		if i%3 == 0 {
			m.Faces[i][0], m.Faces[i][1] = m.Faces[i][1], m.Faces[i][0]
		}
	}
	flipped := enclose(t, &m, 0.1, 0.004)
	assert.Equal(t, s.Inside, flipped.Inside)
}

// A box without its lid, and one with a doubled facet, are labelled as the whole box.
func TestInsideSurvivesALostLidAndADoubledFacet(t *testing.T) {
	whole := boxMesh(0.2, 0.12, 0.08)
	want := enclose(t, &whole, 0.08, 0.004).Inside
	open := whole
	open.Faces = append([][3]int32{}, whole.Faces[:2]...)
	open.Faces = append(open.Faces, whole.Faces[4:]...)
	assert.Equal(t, want, enclose(t, &open, 0.08, 0.004).Inside)
	doubled := whole
	doubled.Faces = append(append([][3]int32{}, whole.Faces...), whole.Faces[5])
	assert.Equal(t, want, enclose(t, &doubled, 0.08, 0.004).Inside)
}

// Wall links of a box at whole spacings stand at half a spacing, one for each cell face
// on the wall: floor and four sides below the level, none at the surface.
func TestWallLinksOfABox(t *testing.T) {
	m := boxMesh(0.2, 0.12, 0.08)
	s := enclose(t, &m, 0.04, 0.004)
	q := Fill(Filling{Surface: s, Shell: &m, Level: 0.04})
	assert.Equal(t, 50*30*10, q.Len())
	assert.Len(t, q.Walls, 50*30+2*10*(50+30))
	for _, k := range q.Walls {
		assert.InDelta(t, 0.5, k.Theta, 1e-9)
	}
}

// A sheet that covers one end of the box to half a cell leaves its edge links half open.
func TestSheetEdgeLinksArePartlyOpen(t *testing.T) {
	m := boxMesh(0.2, 0.12, 0.08)
	edge := 0.042 // half way across a row of cells
	sheet := geometry.Mesh{
		Vertices: []geometry.Vec{{X: 0.1, Y: -1, Z: edge}, {X: 0.1, Y: 1, Z: edge}, {X: 0.1, Y: 1, Z: 1}, {X: 0.1, Y: -1, Z: 1}},
		Faces:    [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
	s := enclose(t, &m, 0.08, 0.004)
	q := Fill(Filling{Surface: s, Shell: &m, Sheets: &sheet, Level: 0.08})
	closed, half := 0, 0
	for n := range q.Keys {
		p := q.Point(int32(n))
		if math.Abs(p.X-0.098) > 1e-9 {
			continue
		}
		switch share := q.Open[0][n]; {
		case p.Z < edge-0.002:
			assert.Equal(t, float32(1), share)
		case p.Z > edge+0.002:
			assert.Equal(t, float32(0), share)
			closed++
		default:
			assert.Equal(t, float32(0.5), share)
			half++
		}
	}
	assert.Equal(t, 30, half)
	assert.Equal(t, 30*9, closed)
}

// Every run of a numbering agrees with a search by key.
func TestRunsAgreeWithSearch(t *testing.T) {
	turn := geometry.RotationAbout(geometry.V(1, 2, 3), 0.7)
	m := boxMesh(0.1, 0.06, 0.04)
	m = m.Transformed(turn.Apply)
	s := enclose(t, &m, 0.05, 0.004)
	q := Fill(Filling{Surface: s, Shell: &m, Level: 0.05})
	l := &q.Lattice
	steps := [4]int32{-l.Step(1), l.Step(1), -l.Step(2), l.Step(2)}
	seen := 0
	for _, r := range q.Runs {
		for n := r.First; n < r.End; n++ {
			seen++
			i, j, k := l.Coordinates(q.Keys[n])
			assert.Equal(t, (int32(i+j+k)-(n-r.First))%2 == 1, r.Odd)
			for d, step := range steps {
				want := q.Find(q.Keys[n] + step)
				if r.Has[d] {
					assert.Equal(t, want, n+r.Step[d])
				} else {
					assert.Equal(t, int32(-1), want)
				}
			}
		}
		assert.Equal(t, q.Find(q.Keys[r.First]-1) >= 0, r.Left)
		assert.Equal(t, q.Find(q.Keys[r.End-1]+1) >= 0, r.Right)
	}
	assert.Equal(t, q.Len(), seen)
}
