package shape

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// A 2:1 head holds πD³/24 (pressure vessel handbooks).
func TestTwoToOneHeadHolds(t *testing.T) {
	assert.InEpsilon(t, math.Pi/24, Head{Kind: Elliptical}.on(1).volume(), 1e-14)
}

// Published check: diameter 40 in, straight length 100 in, 2:1 heads: 616.5 US gal.
func TestFullDrumInGallons(t *testing.T) {
	const inch, gallon = 0.0254, 3.785411784e-3
	d := Drum{Diameter: 40 * inch, Length: 100 * inch, Head: Head{Kind: Elliptical}}
	v, _ := d.Volume()
	// Cylinder 543.99 gal and heads 72.53 gal.
	assert.InDelta(t, 616.5, v/gallon, 0.05)
	m := d.Mesh(0.01)
	assert.InEpsilon(t, 616.5, m.Volume()/gallon, 0.001)
}

// The closed form of a dished head against adding up its slices (Simpson, split at the
// seam, in the angle of each arc so that the slices change smoothly).
func TestDishedHeadAgreesWithItsSlices(t *testing.T) {
	for _, h := range []Head{{Kind: Dished}, {Kind: Dished, Crown: 1, Knuckle: 0.1}, {Kind: Dished, Crown: 0.8, Knuckle: 0.154}} {
		p := h.on(1)
		slices := simpson(0, math.Pi/2-p.half, func(a float64) float64 {
			return math.Pi * sq(p.radius(p.knuckle*math.Sin(a))) * p.knuckle * math.Cos(a)
		}) + simpson(0, p.half, func(a float64) float64 {
			return math.Pi * sq(p.crown*math.Sin(a)) * p.crown * math.Sin(a)
		})
		assert.InEpsilon(t, slices, p.volume(), 1e-9)
	}
	assert.Equal(t, Head{Kind: Dished}.on(1), Head{Kind: Dished, Crown: 1, Knuckle: 0.06}.on(1), "the default")
}

func simpson(from, to float64, f func(float64) float64) float64 {
	const n = 400
	h, sum := (to-from)/n, f(from)-f(to)
	for i := range n / 2 {
		sum += 4*f(from+float64(2*i+1)*h) + 2*f(from+float64(2*i+2)*h)
	}
	return sum * h / 3
}

// Volume over D³ as handbooks round it (from memory): DIN 28011 0.0999, DIN 28013
// 0.1298, both of the outside diameter of a thin head, hence 1 %. The handbooks' 0.0847
// for the ASME head is no exact value of crown D and knuckle 0.06 D: tangent arcs hold
// 0.0810 (both routes above), and 0.0847 needs a knuckle of 0.068 D.
func TestDishedHeadsHold(t *testing.T) {
	volume := func(crown, knuckle float64) float64 {
		return Head{Kind: Dished, Crown: crown, Knuckle: knuckle}.on(1).volume()
	}
	assert.InEpsilon(t, 0.0999, volume(1, 0.1), 0.01, "DIN 28011")
	assert.InEpsilon(t, 0.1298, volume(0.8, 0.154), 0.01, "DIN 28013")
	assert.InEpsilon(t, 0.0847, volume(1, 0.068), 0.01, "ASME flanged and dished")
	assert.InEpsilon(t, 0.0847, volume(1, 0.06), 0.05, "ASME, least knuckle")
}

// Limits of a dished head: crown and knuckle of half the diameter make half a ball.
func TestDishedHeadBecomesHalfABall(t *testing.T) {
	h := Head{Kind: Dished, Crown: 0.5, Knuckle: 0.49999}.on(1)
	assert.InDelta(t, 0.5, h.depth, 1e-4)
	assert.InEpsilon(t, math.Pi/12, h.volume(), 1e-3)
}

// A box of edge radius r is the sum of its parts; with r half of all sides, a ball.
func TestRoundedBoxLimits(t *testing.T) {
	ball, _ := Box{Length: 2, Width: 2, Height: 2, Radius: 1}.Volume()
	assert.InEpsilon(t, 4.0/3*math.Pi, ball, 1e-14)
	sharp, _ := Box{Length: 2, Width: 3, Height: 4}.Volume()
	assert.InEpsilon(t, 24.0, sharp, 1e-14)
}

// A stack of two like full ellipses is an elliptic cylinder; of two rectangles growing
// from a to b, a frustum: V = L/3 (A + √(AB) + B) for like outlines.
func TestStackLimits(t *testing.T) {
	round := Section{Width: 0.2, Height: 0.1, Roundness: 1}
	far := round
	far.At = 0.5
	v, _ := Stack{Sections: []Section{round, far}}.Volume()
	assert.InEpsilon(t, math.Pi*0.1*0.05*0.5, v, 1e-14)

	far.Width, far.Height = 0.4, 0.2
	v, _ = Stack{Sections: []Section{round, far}}.Volume()
	a, b := math.Pi*0.1*0.05, math.Pi*0.2*0.1
	assert.InEpsilon(t, 0.5/3*(a+math.Sqrt(a*b)+b), v, 1e-14)
}

// Pappus: a round pipe of area A bent through an angle holds A × angle × radius.
func TestBentPipeHolds(t *testing.T) {
	pipe := Section{Width: 0.1, Height: 0.1, Roundness: 1}
	end := pipe
	end.At = math.Pi / 2 * 0.3
	s := Stack{Sections: []Section{pipe, end}, Bends: []Bend{{Radius: 0.3, Angle: math.Pi / 2}}}
	require.NoError(t, s.Validate())
	v, _ := s.Volume()
	assert.InEpsilon(t, math.Pi*0.05*0.05*math.Pi/2*0.3, v, 1e-14)
	// A quarter turn to the left ends at (R, R), heading along y.
	m := s.Mesh(0.004)
	assert.InDelta(t, 0.35, m.Bounds().Max.X, 1e-4)
	assert.InDelta(t, 0.3, m.Bounds().Max.Y, 1e-9)
}

func TestPlateAreaAndRims(t *testing.T) {
	p := Plate{Centre: geometry.V(0.22, 0.125, 0.13), Normal: geometry.V(1, 0, 0), Width: 0.25, Height: 0.14,
		Holes: []Hole{{Across: -0.045, Diameter: 0.04}, {Across: 0.06, Up: 0.03, Diameter: 0.02}}}
	require.NoError(t, p.Validate())
	m := p.Mesh(0.001)
	assert.InEpsilon(t, p.Area(), m.Area(), 0.001)
	edges := topology.Edges(&m)
	assert.Len(t, topology.Loops(edges), 3, "the sheet's own edge and two rims")
	for i := range m.Faces {
		assert.InDelta(t, 1, m.Triangle(i).Normal().X, 1e-9)
	}
	// Normal along x: across is y and up is z.
	assert.InDelta(t, 0, p.At(-0.125, -0.07).Dist(geometry.V(0.22, 0, 0.06)), 1e-12)
}

func TestFaultsAreNamed(t *testing.T) {
	nan := math.NaN()
	fine := Section{Width: 0.2, Height: 0.1}
	two := func(s Section) Stack { far := fine; far.At = 0.4; return Stack{Sections: []Section{s, far}} }
	for want, s := range map[string]interface{ Validate() error }{
		"box length is -300 mm":               Box{Length: -0.3, Width: 1, Height: 1},
		"box width is NaN mm":                 Box{Length: 1, Width: nan, Height: 1},
		"at most half the shortest side":      Box{Length: 1, Width: 1, Height: 0.1, Radius: 0.06},
		"drum straight length is 0 mm":        Drum{Diameter: 0.3},
		"at least half the diameter, 150 mm":  Drum{Diameter: 0.3, Length: 1, Head: Head{Kind: Dished, Crown: 0.1}},
		"head kind 7":                         Drum{Diameter: 0.3, Length: 1, Head: Head{Kind: 7}},
		"stack has 0 sections":                Stack{},
		"section 2 stands at 0 mm, not after": Stack{Sections: []Section{fine, fine}},
		"roundness is 1.5":                    two(Section{Width: 1, Height: 1, Roundness: 1.5}),
		"give both, or neither":               two(Section{Width: 0.2, Height: 0.1, Notch: Notch{Width: 0.02}}),
		"does not fit into 200 mm by 100 mm":  two(Section{Width: 0.2, Height: 0.1, Notch: Notch{0.02, 0.1}}),
		"does not reach over the rounded":     two(Section{Width: 0.2, Height: 0.1, Roundness: 1, Notch: Notch{0.18, 0.02}}),
		"plate hole 1 reaches over":           Plate{Normal: geometry.V(0, 0, 1), Width: 1, Height: 1, Holes: []Hole{{Across: 0.5, Diameter: 0.1}}},
		"plate holes 1 and 2 run into":        Plate{Normal: geometry.V(0, 0, 1), Width: 1, Height: 1, Holes: []Hole{{Diameter: 0.1}, {Up: 0.05, Diameter: 0.1}}},
	} {
		assert.ErrorContains(t, s.Validate(), want)
	}
	sharp := two(fine)
	sharp.Bends = []Bend{{At: 0.1, Radius: 0.09, Angle: 1}}
	assert.ErrorContains(t, sharp.Validate(), "bend 1 has radius 90 mm, the tank reaches 100 mm")
}
