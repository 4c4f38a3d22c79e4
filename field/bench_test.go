package field

import (
	"context"
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
