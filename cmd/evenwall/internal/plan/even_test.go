package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"evenwall/geometry"
	"evenwall/geometry/shape"
	"evenwall/geometry/topology"
)

// Whichever facets are turned over, fewer than half of them: all agree again, and the
// enclosed volume is that of the sound surface.
func TestTurnedOverFacetsAreTurnedBack(t *testing.T) {
	sound := shape.Box{Length: 0.3, Width: 0.2, Height: 0.15, Radius: 0.03}.Mesh(0.02)
	rapid.Check(t, func(t *rapid.T) {
		m := geometry.Mesh{Vertices: sound.Vertices, Faces: append([][3]int32(nil), sound.Faces...)}
		for range rapid.IntRange(1, len(m.Faces)/5).Draw(t, "how many") {
			f := &m.Faces[rapid.IntRange(0, len(m.Faces)-1).Draw(t, "facet")]
			f[1], f[2] = f[2], f[1]
		}
		even := turnedEvenly(m)
		assert.Zero(t, topology.FaultsOf(topology.Edges(&even)).Flipped)
		assert.InEpsilon(t, sound.Volume(), even.Volume(), 1e-12)
	})
}
