package vessel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/geometry"
)

// boxMesh is a closed box with one corner at the origin, outward.
func boxMesh(x, y, z float64) geometry.Mesh {
	m := geometry.Mesh{Faces: [][3]int32{
		{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
		{2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5},
	}}
	for i := range 8 {
		m.Vertices = append(m.Vertices, geometry.V(x*float64(i&1), y*float64(i>>1&1), z*float64(i>>2)))
	}
	return m
}

// turnedMesh is a closed surface of revolution about x through the profile's points
// (x, radius), the first and last of radius 0, outward when x grows.
func turnedMesh(profile [][2]float64, sides int) geometry.Mesh {
	m := geometry.Mesh{}
	last := len(profile) - 1
	ring := func(i, k int) int32 { return int32((i-1)*sides + k%sides + 2) }
	m.Vertices = append(m.Vertices, geometry.V(profile[0][0], 0, 0), geometry.V(profile[last][0], 0, 0))
	for _, p := range profile[1:last] {
		for k := range sides {
			s, c := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / float64(sides))
			m.Vertices = append(m.Vertices, geometry.V(p[0], p[1]*c, p[1]*s))
		}
	}
	for k := range sides {
		m.Faces = append(m.Faces, [3]int32{0, ring(1, k+1), ring(1, k)}, [3]int32{1, ring(last-1, k), ring(last-1, k+1)})
		for i := 1; i < last-1; i++ {
			m.Faces = append(m.Faces,
				[3]int32{ring(i, k), ring(i, k+1), ring(i+1, k+1)}, [3]int32{ring(i, k), ring(i+1, k+1), ring(i+1, k)})
		}
	}
	return m
}

// drumMesh is a lying drum: straight shell of the length, flat ends for depth 0, otherwise
// half-ellipsoids of that depth.
func drumMesh(radius, length, depth float64, sides int) geometry.Mesh {
	if depth == 0 {
		return turnedMesh([][2]float64{{-length / 2, 0}, {-length / 2, radius}, {length / 2, radius}, {length / 2, 0}}, sides)
	}
	const steps = 120
	var profile [][2]float64
	for i := range steps + 1 {
		s, c := math.Sincos(math.Pi / 2 * float64(i) / steps)
		profile = append(profile, [2]float64{-length/2 - depth*c, radius * s})
	}
	for i := len(profile) - 1; i >= 0; i-- {
		profile = append(profile, [2]float64{-profile[i][0], profile[i][1]})
	}
	profile[0][1], profile[len(profile)-1][1] = 0, 0
	return turnedMesh(profile, sides)
}

// topped is a vessel with one open opening of 60 mm in its top at (x, y, z).
func topped(t require.TestingT, shell geometry.Mesh, at geometry.Vec, turn geometry.Rotation) *Vessel {
	v, err := New(Tank{
		Shell: shell, Turn: turn,
		Openings: []Opening{{Name: "filler", Centre: at, Axis: geometry.V(0, 0, 1), Diameter: 0.06}},
	})
	require.NoError(t, err)
	return v
}

// V = L [R² acos((R−h)/R) − (R−h) √(2Rh − h²)], the segment of a circle times the length.
func lyingCylinder(radius, length, h float64) float64 {
	return length * (radius*radius*math.Acos((radius-h)/radius) - (radius-h)*math.Sqrt(2*radius*h-h*h))
}

// Both 2:1 ellipsoidal heads together hold ½ π h² (3R − h)/3: a ball's cap, half as deep.
func ellipsoidalHeads(radius, h float64) float64 { return math.Pi * h * h * (3*radius - h) / 6 }

func TestVolumeOfALyingDrum(t *testing.T) {
	const radius, length, sides = 0.15, 0.35, 1440
	flat := topped(t, drumMesh(radius, length, 0, sides), geometry.V(0, 0, radius), geometry.Rotation{})
	headed := topped(t, drumMesh(radius, length, radius/2, 360), geometry.V(0, 0, radius), geometry.Rotation{})
	for _, h := range []float64{0.01, 0.05, 0.15, 0.21, 0.29} {
		// sag of a chord over the radius: 1 − cos(pi/sides), twice that in the area
		assert.InEpsilon(t, lyingCylinder(radius, length, h), flat.VolumeBelow(h), 2e-4, "%g", h)
		heads := headed.VolumeBelow(h)
		assert.InEpsilon(t, lyingCylinder(radius, length, h)+ellipsoidalHeads(radius, h), heads, 2e-3, "%g", h)
	}
}

// Wetted: the arc of each cross-section times the length, and two segments of a circle.
func TestWettedAreaOfALyingDrum(t *testing.T) {
	const radius, length, sides = 0.15, 0.35, 1440
	v := topped(t, drumMesh(radius, length, 0, sides), geometry.V(0, 0, radius), geometry.Rotation{})
	for _, h := range []float64{0.05, 0.15, 0.21} {
		arc := 2 * radius * math.Acos((radius-h)/radius)
		want := arc*length + 2*lyingCylinder(radius, 1, h)
		f := v.Fill(h)
		assert.InEpsilon(t, want, f.Wetted.Area(), 2e-4, "%g", h)
	}
}

// The reference drum: 500 mm over all, 300 mm across, 70 % full, a rod of 12 mm sleeved to
// 20 mm above its lowest 90 mm. Figures: reference tanks, second-order finite elements.
func TestReferenceDrum(t *testing.T) {
	v := topped(t, drumMesh(0.15, 0.35, 0.075, 720), geometry.V(0.08, 0.02, 0.14866), geometry.Rotation{})
	f := v.Fill(0.21)
	rod := geometry.Rod{
		Path: geometry.Straight(geometry.V(0.08, 0.02, -0.12), geometry.V(0.08, 0.02, 0.18)), Radius: 0.006,
		Bare: []geometry.Span{{From: 0, To: 0.09}}, Sleeve: 0.01,
	}
	assert.InEpsilon(t, 31.808626e-3, v.Whole(), 3e-4)
	assert.InEpsilon(t, 24.001279e-3, f.Volume-Displaced(&rod, f.Surface), 3e-4)
	assert.InEpsilon(t, 0.348643977, f.Wetted.Area(), 3e-4)
}

// plateWithHole is a sheet in the plane x = 0.22 with a round hole, as a ring of facets
// between the hole and the outline.
func plateWithHole(y0, y1, z0, z1, hy, hz, hr float64) geometry.Mesh {
	const sides = 720
	m := geometry.Mesh{}
	for k := range sides {
		s, c := math.Sincos(2 * math.Pi * float64(k) / sides)
		reach := min(outward(y0-hy, y1-hy, c), outward(z0-hz, z1-hz, s))
		m.Vertices = append(m.Vertices, geometry.V(0.22, hy+hr*c, hz+hr*s), geometry.V(0.22, hy+reach*c, hz+reach*s))
	}
	corners := [4][2]float64{{y0, z0}, {y1, z0}, {y1, z1}, {y0, z1}}
	for k := range sides {
		a, b := int32(2*k), int32(2*((k+1)%sides))
		m.Faces = append(m.Faces, [3]int32{a, a + 1, b + 1}, [3]int32{a, b + 1, b})
		for _, corner := range corners { // the piece that the chord cuts off the corner
			p, q := m.Vertices[a+1], m.Vertices[b+1]
			if k := geometry.V(0.22, corner[0], corner[1]); turnsRound(k, p, q, hy, hz) {
				m.Vertices = append(m.Vertices, k)
				m.Faces = append(m.Faces, [3]int32{a + 1, int32(len(m.Vertices) - 1), b + 1})
			}
		}
	}
	return m
}

// outward returns how far a ray with the direction cosine c gets between low and high.
func outward(low, high, c float64) float64 {
	switch {
	case c > 1e-12:
		return high / c
	case c < -1e-12:
		return low / c
	default:
		return math.Inf(1)
	}
}

// turnsRound reports whether k lies in the angle between p and q as seen from (hy, hz).
func turnsRound(k, p, q geometry.Vec, hy, hz float64) bool {
	cross := func(a, b geometry.Vec) float64 { return (a.Y-hy)*(b.Z-hz) - (a.Z-hz)*(b.Y-hy) }
	return cross(p, k) > 0 && cross(k, q) > 0
}

// The reference box with its baffle, worked by hand: floor and walls to 180 mm, the
// baffle's both faces from 60 to 180 mm less a hole of 40 mm. The total is also the
// reference tanks' 0.3914867 m², second-order finite elements.
func TestReferenceBoxWithABaffle(t *testing.T) {
	baffle := plateWithHole(0, 0.25, 0.06, 0.2, 0.08, 0.13, 0.02)
	v, err := New(Tank{
		Shell: boxMesh(0.4, 0.25, 0.2), Baffles: []geometry.Mesh{baffle},
		Openings: []Opening{{Name: "filler", Centre: geometry.V(0.1, 0.14, 0.2), Axis: geometry.V(0, 0, 1), Diameter: 0.06}},
	})
	require.NoError(t, err)
	h, err := v.Resolve(Level{Kind: ByHeight, Value: 0.18})
	require.NoError(t, err)
	f := v.Fill(h)
	rod := geometry.Rod{Path: geometry.Straight(geometry.V(0.1, 0.14, 0.04), geometry.V(0.1, 0.14, 0.23)), Radius: 0.005, Bare: []geometry.Span{{From: 0, To: 0.19}}}
	assert.InDelta(t, 0.4*0.25*0.18, f.Volume, 1e-15)
	assert.InDelta(t, math.Pi*0.005*0.005*(0.14-0.005/3), Displaced(&rod, f.Surface), 1e-15)
	assert.InEpsilon(t, 17.98913580940932e-3, f.Volume-Displaced(&rod, f.Surface), 1e-5)
	assert.InDelta(t, 0.4*0.25+2*(0.4+0.25)*0.18, f.Wetted.AreaOf(Shell), 1e-14)
	assert.InDelta(t, 2*(0.25*0.12-math.Pi*0.02*0.02), f.Wetted.AreaOf(Baffle), 1e-7)
	assert.InEpsilon(t, 0.3914867258902228, f.Wetted.Area(), 1e-6)
	assert.InDelta(t, 0.4*0.25*0.2, f.Capacity, 1e-15)
}

// A box of 400 × 250 × 200 mm tilted by its pitch: with the brim at the filler the surface
// cuts the lid along a line, and what is above is a wedge.
func TestTiltedBoxByHand(t *testing.T) {
	pitch := 8 * math.Pi / 180 // lowers the front, +x
	v := topped(t, boxMesh(0.4, 0.25, 0.2), geometry.V(0.1, 0.125, 0.2), geometry.Attitude(pitch, 0))
	brim, err := v.Brim()
	require.NoError(t, err)
	// the rim's lowest point is its front one, x = 130 mm
	assert.InDelta(t, 0, v.Lowest.Dist(geometry.V(0.4, v.Lowest.Y, 0)), 1e-15)
	assert.InDelta(t, 0.2*math.Cos(pitch)+(0.4-0.13)*math.Sin(pitch), brim.Height, 1e-15)
	// dry wedge over the surface: from x = 130 mm to the rear, 130 mm · tan(pitch) deep there
	deep := 0.13 * math.Tan(pitch)
	f := v.Fill(brim.Height)
	assert.InDelta(t, 0.25*(0.4*0.2-0.13*deep/2), f.Volume, 1e-15)
	dry := 0.25*deep + 2*0.13*deep/2 + 0.25*0.13 // rear wall, both side walls, lid
	openingAhead := math.Pi * 0.03 * 0.03        // the whole hole lies rearward of the line
	whole := 2*(0.4*0.25+0.4*0.2+0.25*0.2) - openingAhead
	assert.InDelta(t, whole-(dry-openingAhead), f.Wetted.Area(), 2e-5, "the hole is a polygon that reaches over the line by its sag")
}

// A cone on its tip holds (h/H)³ of itself to the height h, and wets (h/H)² of its flank.
func TestConeOnItsTip(t *testing.T) {
	const radius, height = 0.1, 0.3
	cone := turnedMesh([][2]float64{{0, 0}, {height, radius}, {height, 0}}, 64)
	stand := geometry.RotationAbout(geometry.V(0, 1, 0), -math.Pi/2) // +x up
	v, err := New(Tank{Shell: cone, Turn: stand, Openings: []Opening{{Name: "top", Centre: geometry.V(height, 0, 0), Axis: geometry.V(1, 0, 0), Diameter: 0.06}}})
	require.NoError(t, err)
	nearly := v.Fill(0.99 * height)
	lid := v.Wall.Area() - nearly.Wetted.Area()/(0.99*0.99)
	flank := v.Wall.Area() - lid
	for _, share := range []float64{0.1, 0.5, 0.9} {
		f := v.Fill(share * height)
		assert.InEpsilon(t, math.Pow(share, 3)*v.Whole(), f.Volume, 1e-12)
		assert.InEpsilon(t, share*share*flank, f.Wetted.Area(), 1e-9)
	}
}

// A roof that lies in the liquid's plane is wetted, all but the opening.
func TestRoofAtTheLevelIsWetted(t *testing.T) {
	shell := boxMesh(0.4, 0.25, 0.2)
	for i, p := range shell.Vertices { // as an STL in single precision holds it
		shell.Vertices[i] = geometry.V(float64(float32(p.X)), float64(float32(p.Y)), float64(float32(p.Z)))
	}
	v := topped(t, shell, geometry.V(0.1, 0.125, 0.2), geometry.Rotation{})
	h, err := v.Resolve(Level{})
	require.NoError(t, err)
	f := v.Fill(h)
	assert.InDelta(t, 2*(0.4*0.25+0.4*0.2+0.25*0.2)-math.Pi*0.03*0.03, f.Wetted.Area(), 1e-7)
	assert.InDelta(t, math.Pi*0.03*0.03, v.Wall.Hole.Area(), 1e-12)
}

// Cutting the openings out, or the shell being open there from the start, changes no volume.
func TestHolesInTheShellDoNotCount(t *testing.T) {
	shell := boxMesh(0.4, 0.25, 0.2)
	whole := topped(t, shell, geometry.V(0.1, 0.125, 0.2), geometry.Attitude(0.1, 0.2))
	open := shell
	open.Faces = append([][3]int32(nil), shell.Faces[1:]...) // half the floor is missing
	holed := topped(t, open, geometry.V(0.1, 0.125, 0.2), geometry.Attitude(0.1, 0.2))
	inside := topped(t, turnedOut(&shell), geometry.V(0.1, 0.125, 0.2), geometry.Attitude(0.1, 0.2))
	for _, h := range []float64{0.05, 0.15, 0.2} {
		assert.InDelta(t, whole.VolumeBelow(h), holed.VolumeBelow(h), 1e-15)
		assert.InDelta(t, whole.VolumeBelow(h), inside.VolumeBelow(h), 1e-15, "a shell turned inside out is turned back")
	}
}

// Volume by height and height by volume undo each other at any attitude.
func TestLitresToHeightAndBack(t *testing.T) {
	drum := drumMesh(0.15, 0.35, 0, 48)
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-0.4, 0.4)
		v := topped(t, drum, geometry.V(0, 0, 0.15), geometry.Attitude(angle.Draw(t, "pitch"), angle.Draw(t, "roll")))
		brim, err := v.Brim()
		require.NoError(t, err)
		volume := rapid.Float64Range(1e-6, 1).Draw(t, "share") * brim.Volume
		h, err := v.Resolve(Level{Kind: ByVolume, Value: volume})
		require.NoError(t, err)
		require.InDelta(t, volume, v.VolumeBelow(h), 1e-13, "height is found to 1e-12 of the tank's, times the surface")
	})
}

// Turning the tank and its plumb line together changes nothing: volume from cut facets,
// a second route, agrees with the heights-only formula.
func TestVolumeByCutFacetsAgrees(t *testing.T) {
	drum := drumMesh(0.15, 0.35, 0.075, 24)
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-3, 3)
		v, err := New(Tank{Shell: drum, Turn: geometry.Attitude(angle.Draw(t, "pitch"), angle.Draw(t, "roll"))})
		require.NoError(t, err)
		h := rapid.Float64Range(0.01, 0.29).Draw(t, "height")
		surface := v.SurfaceAt(h)
		low, _ := v.Shell.Below(surface, geometry.Slack{})
		on, sum := v.Lowest.AddScaled(v.Up, h), 0.0
		for i := range low.Faces {
			tri := low.Triangle(i)
			sum += tri.AreaVector().Dot(tri.Centroid().Sub(on)) / 3
		}
		require.InDelta(t, sum, v.VolumeBelow(h), 1e-12)
	})
}
