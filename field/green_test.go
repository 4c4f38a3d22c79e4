package field

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
)

func BenchmarkGreen(b *testing.B) {
	r := references(b)[0]
	f := r.fill(b, Grid{Spacing: 8e-3})
	rec := f.Recovery()
	p := r.problem(f)
	g, err := NewGreen(p, rec, NewByWall(f, rec))
	require.NoError(b, err)
	s := g.NewSolver()
	out := make([]PointAnswer, SideBySide)
	c, ok := f.Liquid.Lattice.Nearest(mm(-60, 12, 120))
	require.True(b, ok)
	source := f.Liquid.Find(c)
	var sources []int32
	for i := range SideBySide {
		sources = append(sources, source+int32(i))
	}
	n := 0
	var at []int32
	for i := range f.Liquid.Len() {
		_, _, d := f.Tree.Closest(f.Liquid.Point(int32(i)))
		x, y, z := f.Liquid.Lattice.Coordinates(f.Liquid.Keys[i])
		if d > 0.02 && x%2 == 0 && y%2 == 0 && z%2 == 0 {
			n++
			at = append(at, int32(i))
		}
	}
	b.Logf("%d cells, %d nodes, %d patches, %d samples", f.Liquid.Len(), n, len(rec.Patches.All), len(rec.samples))
	for b.Loop() {
		require.NoError(b, s.Answer(context.Background(), sources, at, out))
	}
	b.Logf("closure %.4f", out[0].Closure)
}
