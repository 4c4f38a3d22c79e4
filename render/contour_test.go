package render

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// sampledOf evaluates a function of the place on 41 x 41 nodes, 1 apart.
func sampledOf(f func(p point) float64) *samples {
	s := &samples{w: 41, h: 41, step: 1, origin: point{-20, -20}}
	for k := range s.h {
		for i := range s.w {
			s.value = append(s.value, f(s.at(i, k)))
		}
	}
	return s
}

// Bilinear cells carry a linear field exactly, so its contours are exact straight lines
// from edge to edge.
func TestContourOfALinearFieldIsItsLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sin, cos := math.Sincos(rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle"))
		level := rapid.Float64Range(-15, 15).Draw(t, "level")
		lines := sampledOf(func(p point) float64 { return p.x*cos + p.y*sin }).contour(level)
		require.Len(t, lines, 1)
		for _, p := range lines[0] {
			assert.InDelta(t, level, p.x*cos+p.y*sin, 1e-9)
		}
	})
}

// The logarithmic potential of a wire has circles as contours. Linear interpolation over
// a step of 1 at radius r errs by at most step² / (8 r).
func TestContourAroundAWireIsACircle(t *testing.T) {
	s := sampledOf(func(p point) float64 { return math.Log(p.norm()) })
	for _, r := range []float64{5, 10, 15} {
		lines := s.contour(math.Log(r))
		require.Len(t, lines, 1)
		line := lines[0]
		assert.Equal(t, line[0], line[len(line)-1], "closed")
		for _, p := range line {
			assert.InDelta(t, r, p.norm(), 1/(8*r)*1.01)
		}
		// A polygon with corners on the circle is shorter than it, with steps below 1.5 by
		// under (1.5 / r)² / 24.
		assert.InDelta(t, 2*math.Pi*r, lengthOf(line), 2*math.Pi*r*math.Pow(1.5/r, 2)/24+0.05)
	}
}

func TestSaddleIsPartedNotCrossed(t *testing.T) {
	s := sampledOf(func(p point) float64 { return (p.x - 0.5) * (p.y - 0.5) })
	assert.Len(t, s.contour(0.1), 2)
	assert.Len(t, s.contour(-0.1), 2)
}

func TestExtendingALinearFieldChangesNothingButFillsIt(t *testing.T) {
	full := sampledOf(func(p point) float64 { return 3 + 2*p.x - p.y })
	holed := sampledOf(func(p point) float64 {
		if p.norm() > 12 {
			return math.NaN()
		}
		return 3 + 2*p.x - p.y
	})
	holed.extend(2)
	filled := 0
	for i, v := range holed.value {
		p := holed.at(i%holed.w, i/holed.w)
		switch {
		case p.norm() <= 12:
			assert.Equal(t, full.value[i], v)
		case !math.IsNaN(v):
			filled++
			// A neighbour with no node behind it is taken as it is: off by one step's rise.
			assert.InDelta(t, full.value[i], v, 2*math.Hypot(2, 1))
		case p.norm() < 13:
			t.Errorf("node at %v is next to a known one and stays empty", p)
		}
	}
	assert.Positive(t, filled)
	assert.InDelta(t, 3+2*0.3+0.7, full.interpolate(point{0.3, -0.7}), 1e-12)
}

func TestWaysGoAlongEveryJointOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		knot := rapid.IntRange(0, 6)
		j, want := newJoints[int](), map[[2]int]bool{}
		for range rapid.IntRange(1, 12).Draw(t, "joints") {
			a, b := knot.Draw(t, "a"), knot.Draw(t, "b")
			if a != b {
				j.join(a, b)
				want[[2]int{min(a, b), max(a, b)}] = true
			}
		}
		got := map[[2]int]bool{}
		for _, way := range j.ways() {
			for i := 1; i < len(way); i++ {
				edge := [2]int{min(way[i-1], way[i]), max(way[i-1], way[i])}
				assert.False(t, got[edge], "walked twice: %v", edge)
				got[edge] = true
			}
		}
		assert.Equal(t, want, got)
	})
}
