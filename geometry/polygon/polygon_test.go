package polygon

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func circle(n int, centre Point, radius float64) []Point {
	out := make([]Point, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = Point{centre.X + radius*c, centre.Y + radius*s}
	}
	return out
}

func reversed(p []Point) []Point {
	out := make([]Point, len(p))
	for i := range p {
		out[i] = p[len(p)-1-i]
	}
	return out
}

func areaOf(tris [][3]int, pts []Point) float64 {
	sum := 0.0
	for _, t := range tris {
		sum += cross(pts[t[0]], pts[t[1]], pts[t[2]]) / 2
	}
	return sum
}

func TestSquareWithCollinearPointsUsesEveryPoint(t *testing.T) {
	square := []Point{{0, 0}, {1, 0}, {2, 0}, {2, 2}, {1, 2}, {0, 2}, {0, 1}}
	tris := Triangulate(square)
	assert.Len(t, tris, 5)
	assert.InDelta(t, 4, areaOf(tris, square), 1e-14)
	for _, tri := range tris {
		assert.Greater(t, cross(square[tri[0]], square[tri[1]], square[tri[2]]), 0.0)
	}
}

// A plate with holes: the area is the outline's less the holes'.
func TestHolesAreLeftOut(t *testing.T) {
	plate := []Point{{0, 0}, {250, 0}, {250, 140}, {0, 140}}
	a, b, c := reversed(circle(40, Point{80, 70}, 20)), reversed(circle(24, Point{160, 70}, 10)), reversed(circle(24, Point{80, 120}, 8))
	tris := Triangulate(plate, a, b, c)
	all := append(append(append(append([]Point{}, plate...), a...), b...), c...)
	want := Area(plate) + Area(a) + Area(b) + Area(c)
	assert.InDelta(t, want, areaOf(tris, all), 1e-9)
	assert.Len(t, tris, len(all)-2+2*3, "Euler: n - 2 + 2 holes")
	for _, tri := range tris {
		assert.GreaterOrEqual(t, cross(all[tri[0]], all[tri[1]], all[tri[2]]), 0.0)
	}
}

// Any star-shaped outline: as many triangles as Euler asks for, none turned over, and
// together the outline's own area (shoelace formula).
func TestStarShapedOutlines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radii := rapid.SliceOfN(rapid.Float64Range(0.2, 1), 3, 60).Draw(t, "radii")
		star := make([]Point, len(radii))
		for i, r := range radii {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(len(radii)))
			star[i] = Point{r * c, r * s}
		}
		if len(star) < 5 && !Contains(star, Point{}) {
			t.Skip("not star-shaped about the origin")
		}
		tris := Triangulate(star)
		if len(tris) != len(star)-2 {
			t.Fatalf("%d triangles of %d points", len(tris), len(star))
		}
		if got, want := areaOf(tris, star), Area(star); math.Abs(got-want) > 1e-12 {
			t.Fatalf("area %v, want %v", got, want)
		}
		for _, tri := range tris {
			if cross(star[tri[0]], star[tri[1]], star[tri[2]]) < -1e-15 {
				t.Fatalf("triangle %v is turned over", tri)
			}
		}
	})
}
