package mend

import (
	"math/rand/v2"

	"evenwall/geometry"
)

// damage breaks a surface on purpose. The zero value changes nothing.
type damage struct {
	lost, flipped, doubled float64        // shares of the facets
	crack                  float64        // by which each corner of each facet is off, m
	filler                 *geometry.Disc // cut open
}

// apply returns a broken copy of m as a file would hold it: every facet with corners of its own.
func (d damage) apply(m geometry.Mesh, seed uint64) geometry.Mesh {
	random := rand.New(rand.NewPCG(seed, 1))
	if d.filler != nil {
		m, _, _, _ = d.filler.Cut(&m)
	}
	var facets []geometry.Triangle
	for i := range m.Faces {
		t := m.Triangle(i)
		if random.Float64() < d.lost {
			continue
		}
		if random.Float64() < d.flipped {
			t.B, t.C = t.C, t.B
		}
		facets = append(facets, t)
		if random.Float64() < d.doubled {
			facets = append(facets, t)
		}
	}
	random.Shuffle(len(facets), func(i, k int) { facets[i], facets[k] = facets[k], facets[i] })
	off := func(p geometry.Vec) geometry.Vec {
		if d.crack == 0 {
			return p
		}
		return p.AddScaled(geometry.V(random.NormFloat64(), random.NormFloat64(), random.NormFloat64()).Unit(), d.crack)
	}
	var out geometry.Mesh
	for _, t := range facets {
		n := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, off(t.A), off(t.B), off(t.C))
		out.Faces = append(out.Faces, [3]int32{n, n + 1, n + 2})
	}
	return out
}
