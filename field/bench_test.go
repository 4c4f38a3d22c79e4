package field

import (
	"context"
	"testing"
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
