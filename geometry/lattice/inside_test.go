package lattice

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/geometry"
)

func shifted(m geometry.Mesh, by geometry.Vec) geometry.Mesh { return m.Transformed(by.Add) }

// Two boxes that overlap by a corner are their union: parity calls the overlap outside,
// the facing and the winding numbers do not. Volumes by hand, the boxes' sides at whole
// spacings.
func TestOverlappingBoxesAreTheirUnion(t *testing.T) {
	m := boxMesh(0.2, 0.12, 0.08)
	m.Append(shifted(boxMesh(0.2, 0.12, 0.08), geometry.V(0.104, 0.064, 0.04)))
	s := enclose(t, &m, 0.12, 0.004)
	assert.InDelta(t, 2*0.2*0.12*0.08-0.096*0.056*0.04, s.Volume(), 1e-12)
	assert.Zero(t, s.Split, "winding numbers agree with all cells that are in no doubt")
}

// A cavity whose facets face into it is outside; one whose facets face the other way is a
// second skin, inside all the same. By hand.
func TestCavityAndSecondSkin(t *testing.T) {
	inner := shifted(boxMesh(0.1, 0.06, 0.04), geometry.V(0.052, 0.032, 0.02))
	skins := boxMesh(0.2, 0.12, 0.08)
	skins.Append(inner)
	assert.InDelta(t, 0.2*0.12*0.08, enclose(t, &skins, 0.08, 0.004).Volume(), 1e-12)
	for i, f := range inner.Faces {
		inner.Faces[i] = [3]int32{f[0], f[2], f[1]}
	}
	cavity := boxMesh(0.2, 0.12, 0.08)
	cavity.Append(inner)
	assert.InDelta(t, 0.2*0.12*0.08-0.1*0.06*0.04, enclose(t, &cavity, 0.08, 0.004).Volume(), 1e-12)
}

// The two routes on a surface with a hole: cells that lines through the hole leave in doubt
// get the same label from winding numbers as the closed surface gives, but for a few at the
// hole itself.
func TestWindingDecidesBehindAHole(t *testing.T) {
	turn := geometry.RotationAbout(geometry.V(1, 2, 3), 0.7)
	whole := boxMesh(0.2, 0.12, 0.08)
	var fine geometry.Mesh
	for i := range whole.Faces {
		whole.Triangle(i).Split(0.03, func(f geometry.Triangle) {
			n := int32(len(fine.Vertices))
			fine.Vertices = append(fine.Vertices, turn.Apply(f.A), turn.Apply(f.B), turn.Apply(f.C))
			fine.Faces = append(fine.Faces, [3]int32{n, n + 1, n + 2})
		})
	}
	want := enclose(t, &fine, 0.1, 0.004)
	assert.Zero(t, want.Doubt)
	holed := geometry.Mesh{Vertices: fine.Vertices}
	for i, f := range fine.Faces {
		if i%23 != 7 {
			holed.Faces = append(holed.Faces, f)
		}
	}
	got := enclose(t, &holed, 0.1, 0.004)
	assert.Greater(t, got.Doubt, 100)
	assert.Less(t, got.Split, trusted)
	wrong := 0
	for i, in := range want.Inside {
		if got.Inside[i] != in {
			wrong++
		}
	}
	assert.Less(t, wrong, len(want.Inside)/1000)
}
