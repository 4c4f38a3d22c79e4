package table

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"evenwall/field/electrode"
	"evenwall/geometry"
)

// What a table takes to build, with and without a finer lattice to be put right by.
func BenchmarkBuild(b *testing.B) {
	s := newSaddle(b, 3e-3)
	for _, set := range []Settings{s.settings(), {Conductivity: 0.6, Wall: s.settings().Wall, Anode: s.settings().Anode, Supply: s.settings().Supply, Clearance: clearance}} {
		b.Run(fmt.Sprintf("mended=%t", set.Fine != nil), func(b *testing.B) {
			for b.Loop() {
				t, err := Build(context.Background(), s.coarse, s.rough, set)
				require.NoError(b, err)
				b.ReportMetric(float64(t.wall.kept)/float64(len(t.patches)), "kept")
			}
		})
	}
}

// Single-rod layouts by the table, over a wall with a film and over one with kinetics. The
// rods differ from call to call, as in a search.
func BenchmarkEvaluate(b *testing.B) {
	s := newSaddle(b, 8e-3)
	r := rand.New(rand.NewPCG(9, 10))
	var all [][]geometry.Rod
	for range 300 {
		all = append(all, s.layout(r, 1))
	}
	for name, law := range map[string]electrode.Law{"film": s.settings().Wall, "kinetics": electrode.DefaultWall()} {
		set := s.settings()
		set.Wall = law
		t, err := Build(context.Background(), s.coarse, s.rough, set)
		require.NoError(b, err)
		for _, rods := range all {
			_, err := t.Evaluate(context.Background(), rods)
			require.NoError(b, err)
		}
		b.Run(name+"/alone", func(b *testing.B) {
			i := 0
			for b.Loop() {
				_, err := t.Evaluate(context.Background(), all[i%len(all)])
				require.NoError(b, err)
				i++
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "layouts/s")
		})
		b.Run(name+"/side-by-side", func(b *testing.B) {
			b.RunParallel(func(pb *testing.PB) {
				for i := 0; pb.Next(); i++ {
					if _, err := t.Evaluate(context.Background(), all[i%len(all)]); err != nil {
						panic(err)
					}
				}
			})
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "layouts/s")
		})
	}
}
