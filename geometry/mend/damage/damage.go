// Package damage breaks surfaces on purpose, the same way every time, for the tests of
// what mends them.
package damage

import (
	"math/rand/v2"

	"evenwall/geometry"
)

// Damage is what is done to a surface. The zero value only scatters its facets.
type Damage struct {
	Lost    float64 // share of the facets that are deleted
	Flipped float64 // share that is turned over
	Doubled float64 // share that is there twice
	Crack   float64 // by which each corner of each facet is off, any way, m
	Cut     []geometry.Disc
}

// Apply returns a broken copy of m as a file would hold it: its facets in another order,
// each with corners of its own. Lost facets keep is asked about stay; nil: none stays.
func (d Damage) Apply(m geometry.Mesh, seed uint64, keep func(geometry.Triangle) bool) geometry.Mesh {
	random := rand.New(rand.NewPCG(seed, 1))
	for _, disc := range d.Cut {
		m, _, _, _ = disc.Cut(&m)
	}
	var facets []geometry.Triangle
	for i := range m.Faces {
		t := m.Triangle(i)
		if random.Float64() < d.Lost && (keep == nil || !keep(t)) {
			continue
		}
		if random.Float64() < d.Flipped {
			t.B, t.C = t.C, t.B
		}
		facets = append(facets, t)
		if random.Float64() < d.Doubled {
			facets = append(facets, t)
		}
	}
	random.Shuffle(len(facets), func(i, k int) { facets[i], facets[k] = facets[k], facets[i] })
	var out geometry.Mesh
	for _, t := range facets {
		n := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, d.off(random, t.A), d.off(random, t.B), d.off(random, t.C))
		out.Faces = append(out.Faces, [3]int32{n, n + 1, n + 2})
	}
	return out
}

// off returns p moved by a crack's half width.
func (d Damage) off(random *rand.Rand, p geometry.Vec) geometry.Vec {
	if d.Crack == 0 {
		return p
	}
	return p.AddScaled(geometry.V(random.NormFloat64(), random.NormFloat64(), random.NormFloat64()).Unit(), d.Crack)
}
