package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

const degree = math.Pi / 180

// hangingRod is 10 mm across and goes from z = 40 mm, through its opening at z = 200 mm.
func hangingRod() (Rod, Hold) {
	r := Rod{Path: Straight(V(0, 0, 0.04), V(0, 0, 0.26)), Radius: 0.005, Bare: []Span{{0, 0.1}}}
	return r, Hold{At: V(0, 0, 0.2), Along: V(0, 0, 1), Normal: V(0, 0, 1), S: 0.16}
}

var roughHand = Play{Position: 0.010, Tilt: 3 * degree, Depth: 0.005}

// Worked by hand: straight down, the worst over a floor is the slide alone; sideways, the
// ball at the tip swings out by sin(tilt) of its distance from the hold, with the slide
// and the shift.
func TestWorstOverAFloorAndBesideAWall(t *testing.T) {
	rod, hold := hangingRod()
	floor := floorMesh(0)
	g := WorstClearance(&rod, NewTree(&floor), hold, roughHand)
	assert.InDelta(t, 0.040-0.005, g.Distance, 2e-8)
	assert.InDelta(t, g.Distance, g.Attained, 2e-8)

	wall := Mesh{Vertices: []Vec{{0.05, -1, -1}, {0.05, 1, -1}, {0.05, 1, 1}, {0.05, -1, 1}}, Faces: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
	g = WorstClearance(&rod, NewTree(&wall), hold, roughHand)
	want := 0.05 - 0.005 - 0.010 - (0.16-0.005+0.005)*math.Sin(3*degree) // to the ball's centre, 5 mm up from the tip
	assert.InDelta(t, want, g.Distance, 2e-8)
	assert.InDelta(t, want, g.Attained, 2e-8)

	rod.Flat = true // the disc's edge: R sin θ + r cos θ
	g = WorstClearance(&rod, NewTree(&wall), hold, roughHand)
	assert.InDelta(t, 0.05-0.010-0.165*math.Sin(3*degree)-0.005*math.Cos(3*degree), g.Distance, 2e-8)
}

// The same wall so near that the hand may push the rod into it: the worst is a touch, as deep
// as the rod is thick, and the placement that is named touches too, towards the wall.
func TestWorstIntoAWall(t *testing.T) {
	rod, hold := hangingRod()
	wall := Mesh{Vertices: []Vec{{0.012, -1, -1}, {0.012, 1, -1}, {0.012, 1, 1}, {0.012, -1, 1}}, Faces: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
	fine := Mesh{}
	for i := range wall.Faces {
		wall.Triangle(i).Split(0.03, func(f Triangle) {
			n := int32(len(fine.Vertices))
			fine.Vertices = append(fine.Vertices, f.A, f.B, f.C)
			fine.Faces = append(fine.Faces, [3]int32{n, n + 1, n + 2})
		})
	}
	for _, m := range []Mesh{wall, fine} {
		g := WorstClearance(&rod, NewTree(&m), hold, roughHand)
		assert.InDelta(t, -rod.Radius, g.Distance, 1e-6)
		assert.LessOrEqual(t, g.Distance, g.Attained+1e-9)
		assert.Negative(t, g.Attained)
		assert.Greater(t, g.Shift.X, 0.9*roughHand.Position)
	}
}

// A rod held level droops by w L⁴ / 8EI at its end (any table of beams).
func TestDroopOfALevelRod(t *testing.T) {
	droop := Droop{Load: V(0, 0, -4), Stiffness: 40}
	assert.InDelta(t, -4*math.Pow(0.6, 4)/(8*40), droop.At(0.6, 0.6).Z, 1e-15)
	assert.Zero(t, droop.At(-0.1, 0.6))
	rod := Rod{Path: Straight(V(0, 0, 0.03), V(0.7, 0, 0.03)), Radius: 0.004, Bare: []Span{{0, 0.5}}}
	hold := Hold{At: V(0.6, 0, 0.03), Along: V(1, 0, 0), Normal: V(1, 0, 0), S: 0.6}
	floor := floorMesh(0)
	g := WorstClearance(&rod, NewTree(&floor), hold, Play{Droop: droop})
	sag := -droop.At(0.6-0.004, 0.6).Z
	assert.InDelta(t, 0.03-0.004-sag, g.Distance, 1e-8)
	assert.InDelta(t, g.Distance, g.Attained, 1e-8)
	moved := rod.Moved(hold, Placement{Turn: Identity(), Droop: droop})
	assert.InDelta(t, 0.03-0.0016200, moved.Path[0].Z, 1e-7)
}

// Without play the worst is the nominal clearance, whatever the facets.
func TestNoPlayIsTheNominalClearance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rod, hold := drawnRod(t)
		mesh := drawnFacets(t)
		tree := NewTree(&mesh)
		want := BareClearance(&rod, tree, nil).Distance
		got := WorstClearance(&rod, tree, hold, Play{})
		assert.InDelta(t, want, got.Distance, 2e-7)
	})
}

// No placement drawn at random within the play comes nearer than the bound, and the one
// that is named comes as near or nearly.
func TestWorstIsNeverBeaten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rod, hold := drawnRod(t)
		mesh := drawnFacets(t)
		tree := NewTree(&mesh)
		play := Play{
			Position: rapid.Float64Range(0, 0.015).Draw(t, "position"),
			Tilt:     rapid.Float64Range(0, 8).Draw(t, "tilt") * degree,
			Depth:    rapid.Float64Range(0, 0.010).Draw(t, "depth"),
		}
		worst := WorstClearance(&rod, tree, hold, play)
		assert.LessOrEqual(t, worst.Distance, worst.Attained+1e-7)
		for range 20 {
			moved := rod.Moved(hold, drawnPlacement(t, hold, play))
			assert.LessOrEqual(t, worst.Distance, BareClearance(&moved, tree, nil).Distance+1e-7)
		}
	})
}

// No point of a rod moves farther than its reach.
func TestReachIsNeverBeaten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rod, hold := hangingRod()
		play := Play{Position: 0.01, Tilt: 8 * degree, Depth: 0.01}
		moved := rod.Moved(hold, drawnPlacement(t, hold, play))
		s := rapid.Float64Range(0, 0.2).Draw(t, "s")
		before, _ := rod.At(s)
		after, _ := moved.At(s)
		assert.LessOrEqual(t, before.Dist(after), play.Reach(hold.S-s)+1e-12)
	})
}

// The tree changes nothing: every facet one by one gives the same worst.
func TestWorstAgainstEveryFacet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rod, hold := drawnRod(t)
		mesh := drawnFacets(t)
		least := math.Inf(1)
		for i := range mesh.Faces {
			one := Mesh{Vertices: mesh.Vertices, Faces: mesh.Faces[i : i+1]}
			least = math.Min(least, WorstClearance(&rod, NewTree(&one), hold, roughHand).Distance)
		}
		assert.InDelta(t, least, WorstClearance(&rod, NewTree(&mesh), hold, roughHand).Distance, 1e-7)
	})
}

func TestWorstBetweenRods(t *testing.T) {
	a, hold := hangingRod()
	b := a
	b.Path = Straight(V(0.06, 0, 0.04), V(0.06, 0, 0.26))
	holdB := hold
	holdB.At = V(0.06, 0, 0.2)
	assert.InDelta(t, 0.05, WorstRodGap(&a, &b, hold, holdB, Play{}).Distance, 1e-8)
	// each shifts by 10 mm and swings (160 mm) sin 3 degrees toward the other
	want := 0.05 - 2*(0.010+0.16*math.Sin(3*degree))
	assert.InDelta(t, want, WorstRodGap(&a, &b, hold, holdB, roughHand).Distance, 1e-7)
}

func drawnRod(t *rapid.T) (Rod, Hold) {
	rod, hold := hangingRod()
	rod.Flat = rapid.Bool().Draw(t, "flat")
	from := rapid.Float64Range(0, 0.05).Draw(t, "from")
	rod.Bare = []Span{{from, from + rapid.Float64Range(0.02, 0.15).Draw(t, "bare")}}
	if rapid.Bool().Draw(t, "bent") {
		rod.Path = []Vec{V(rapid.Float64Range(-0.08, 0.08).Draw(t, "leg"), 0.01, 0.05), V(0, 0, 0.09), V(0, 0, 0.26)}
	}
	return rod, hold
}

// drawnFacets is a soup about the rod, none of it nearer to its axis than 30 mm.
func drawnFacets(t *rapid.T) Mesh {
	var m Mesh
	n := rapid.IntRange(1, 12).Draw(t, "facets")
	for i := range n {
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "round")
		far := rapid.Float64Range(0.12, 0.2).Draw(t, "out")
		c := V(far*math.Cos(angle), far*math.Sin(angle), rapid.Float64Range(-0.1, 0.25).Draw(t, "up"))
		for range 3 {
			c = c.Add(V(rapid.Float64Range(-0.03, 0.03).Draw(t, "x"), rapid.Float64Range(-0.03, 0.03).Draw(t, "y"), rapid.Float64Range(-0.03, 0.03).Draw(t, "z")))
			m.Vertices = append(m.Vertices, c)
		}
		m.Faces = append(m.Faces, [3]int32{int32(3 * i), int32(3*i + 1), int32(3*i + 2)})
	}
	return m
}

func drawnPlacement(t *rapid.T, hold Hold, p Play) Placement {
	angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "way")
	u, v := hold.Normal.Perpendicular()
	shift := u.Scale(math.Cos(angle)).AddScaled(v, math.Sin(angle)).Scale(p.Position * rapid.Float64Range(0, 1).Draw(t, "far"))
	about := rapid.Float64Range(0, 2*math.Pi).Draw(t, "about")
	turn := RotationAbout(u.Scale(math.Cos(about)).AddScaled(v, math.Sin(about)), p.Tilt*rapid.Float64Range(0, 1).Draw(t, "lean"))
	return Placement{Turn: turn, Slide: p.Depth * rapid.Float64Range(-1, 1).Draw(t, "slide"), Shift: shift}
}

func BenchmarkWorstClearance(b *testing.B) {
	rod, hold := hangingRod()
	tube := tubeMesh(0.06, 0.3, 2000)
	tree := NewTree(&tube)
	for b.Loop() {
		WorstClearance(&rod, tree, hold, roughHand)
	}
}

// A spacer of 40 mm at the tip of a rod of 10 mm beside a plane wall that it would else be
// pushed into: 15 mm is left at the spacer, less what the lean takes beyond it.
func TestSpacersKeepTheRodOff(t *testing.T) {
	rod, hold := hangingRod()
	wall := Mesh{Vertices: []Vec{{0.025, -1, -1}, {0.025, 1, -1}, {0.025, 1, 1}, {0.025, -1, 1}}, Faces: [][3]int32{{0, 1, 2}, {0, 2, 3}}}
	tree := NewTree(&wall)
	play := Play{Position: 0.03}
	assert.Negative(t, WorstClearance(&rod, tree, hold, play).Distance)
	rod.Spacers = []Spacer{{At: 0.02, Radius: 0.02, Thick: 0.003}, {At: 0.09, Radius: 0.02, Thick: 0.003}}
	assert.InDelta(t, 0.020-0.005, PushedClearance(&rod, tree, hold, play).Distance, 5e-5)
	// Leaning about the rim, the disc's edge touches with its middle R cos θ + (1.5 mm) sin θ off,
	// and the upper end of the bare metal, 80 mm above it, comes 80 sin θ nearer than that.
	play.Tilt = 3 * degree
	rod.Spacers = rod.Spacers[:1]
	got := PushedClearance(&rod, tree, hold, play)
	sin, cos := math.Sincos(3 * degree)
	least := 0.020*cos + 0.0015*sin - 0.080*sin - 0.005*cos
	assert.InDelta(t, least, got.Distance, 1e-4)
	assert.Greater(t, got.Distance, least-1e-9)
}

// Where no spacer is near anything the push is the worst case.
func TestPushedIsNeverWorseThanTheWorst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rod, hold := hangingRod()
		mesh := drawnFacets(t)
		tree := NewTree(&mesh)
		worst := WorstClearance(&rod, tree, hold, roughHand)
		pushed := PushedClearance(&rod, tree, hold, roughHand)
		assert.GreaterOrEqual(t, pushed.Distance, worst.Distance-1e-7)
		assert.Less(t, pushed.Distance, worst.Distance+1e-3)
	})
}
