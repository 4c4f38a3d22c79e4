package passage

import (
	"testing"

	"evenwall/geometry"
	"evenwall/geometry/shape"
)

// A search that finds nothing looks at all the poses it may.
func BenchmarkStopped(b *testing.B) {
	spout := shape.Spout{Axis: geometry.V(0, 0, 1), Diameter: 0.058, Length: 0.05, Restrictor: 0.03}
	w := hung(opening(b, spout), geometry.V(0, 0, -0.16), geometry.V(0, 0, 0.08))
	w.Rod.Spacers = []geometry.Spacer{{At: 0.02, Radius: 0.02, Thick: 0.003}}
	for b.Loop() {
		Find(w)
	}
}
