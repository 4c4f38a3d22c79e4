package field

import (
	"context"
	"fmt"
	"testing"

	"evenwall/field/electrode"
)

// Set-up and solve of the saddle tank with films, in parts. Ratios in one run count, not
// the times of one machine.
func BenchmarkSaddle(b *testing.B) {
	r := references(b)[0]
	f := r.fill(b, Grid{Spacing: 3e-3})
	rec := f.Recovery()
	p := r.problem(f)
	s, err := Solve(context.Background(), p, Settings{})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("fill", func(b *testing.B) {
		for b.Loop() {
			r.fill(b, Grid{Spacing: 3e-3})
		}
	})
	b.Run("recovery", func(b *testing.B) {
		for b.Loop() {
			f.Recovery()
		}
	})
	b.Run("solve", func(b *testing.B) {
		for b.Loop() {
			if _, err := Solve(context.Background(), p, Settings{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("wall", func(b *testing.B) {
		for b.Loop() {
			s.WallCurrent(rec)
		}
	})
}

// One candidate of a search: a long leaning rod in the saddle on a coarse lattice, with
// kinetics on the wall.
func BenchmarkCandidate(b *testing.B) {
	r := references(b)[0]
	f := r.fill(b, Grid{Spacing: 8e-3})
	rec := f.Recovery()
	p := r.problem(f)
	p.Wall = electrode.DefaultWall()
	p.Anodes = []Anode{{Rod: bareRod(8, mm(120, -60, 40), mm(-65, 15, 230), 0.2)}}
	b.Run("solve", func(b *testing.B) {
		for b.Loop() {
			s, err := Solve(context.Background(), p, Settings{Tolerance: 1e-5, Settled: 1e-3})
			if err != nil {
				b.Fatal(err)
			}
			b.ReportMetric(float64(s.Outcome.Iterations), "iterations")
			b.ReportMetric(float64(s.Rounds), "rounds")
			b.ReportMetric(float64(s.solver.body.columns()), "columns")
			b.ReportMetric(float64(len(s.solver.region.cells)), "region")
		}
	})
	s, err := Solve(context.Background(), p, Settings{})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("wall", func(b *testing.B) {
		for b.Loop() {
			s.WallCurrent(rec)
		}
	})
}

// The cost of an unknown, from a few hundred thousand to twenty million, which take some
// gigabytes: "of the first" is by how much an unknown costs more than in the smallest.
func BenchmarkLinear(b *testing.B) {
	longOnly(b)
	first := 0.0
	for _, h := range []float64{3.9e-3, 2.08e-3, 1.5e-3, 0.965e-3} {
		p := boxProblem(b, h, 0.02)
		b.Run(fmt.Sprintf("%.2f mm", 1000*h), func(b *testing.B) {
			b.ReportAllocs()
			var s *Solution
			for b.Loop() {
				var err error
				if s, err = Solve(context.Background(), p, Settings{}); err != nil {
					b.Fatal(err)
				}
			}
			each := b.Elapsed().Seconds() / float64(b.N) / float64(s.Unknowns)
			if first == 0 {
				first = each
			}
			b.ReportMetric(float64(s.Unknowns), "unknowns")
			b.ReportMetric(float64(s.Outcome.Iterations), "iterations")
			b.ReportMetric(each/first, "of-the-first")
		})
	}
}
