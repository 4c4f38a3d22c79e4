package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// bruteDistance tries every facet.
func bruteDistance(m *geometry.Mesh, p geometry.Vec) float64 {
	best := math.Inf(1)
	for i := range m.Faces {
		best = min(best, m.Triangle(i).Closest(p).Dist(p))
	}
	return best
}

func drawWish(t *rapid.T, b boxTank) Place {
	random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)) // evenly: drawn one by one, most would be at the edges
	part := random.Float64
	box := b.box.Bounds()
	size := box.Size()
	return Place{
		U: 0.02 * (part() - 0.5), V: 0.02 * (part() - 0.5), Radius: 0.003 + 0.002*part(),
		Tip:  box.Min.Add(geometry.V(part()*size.X, part()*size.Y, part()*size.Z)),
		Bare: geometry.Span{From: 0.1 * part(), To: 0.05 + 0.3*part()},
	}
}

// What fits keeps the clearance at points all over its bare metal, stays out of the steel
// and within the opening's circle: every facet tried, no tree, no tracing.
func TestWhatFitsFitsByBruteForce(t *testing.T) {
	b := newBoxTank(0.2, 0.14, 0.16, 0.02)
	s := b.space()
	fitted := 0
	rapid.Check(t, func(t *rapid.T) {
		place, miss := s.Fit(drawWish(t, b))
		if miss != nil {
			require.Greater(t, miss.By, 0.0, miss)
			return
		}
		fitted++
		rod := s.Rod(place)
		require.LessOrEqual(t, place.Bare.To, rod.Length()-0.06+1e-9, "no bare metal over the opening")
		for at := 0.0; at < 2*rod.Length(); at += 0.003 {
			p, d := rod.At(at)
			u, v := d.Perpendicular()
			bare := at >= place.Bare.From && at <= place.Bare.To
			radius, need := rod.Sleeve, 0.001
			if bare {
				radius, need = rod.Radius, s.Clearance
				require.LessOrEqual(t, s.Surface.Height(p), 1e-9, "bare metal is under the liquid")
			}
			if bare && at < radius {
				radius = math.Sqrt(radius*radius - (radius-at)*(radius-at)) // the round tip
			}
			for k := range 8 {
				sin, cos := math.Sincos(math.Pi / 4 * float64(k))
				x := p.AddScaled(u, radius*cos).AddScaled(v, radius*sin)
				require.GreaterOrEqual(t, bruteDistance(&b.wall, x), need-1e-9)
			}
		}
	})
	assert.Greater(t, fitted, 10, "places that were held against every facet")
}

// The bare stretch is no shorter than it must be: the longest run of points along the axis
// that keep the clearance, every facet tried.
func TestBareStretchIsAsLongAsAllowed(t *testing.T) {
	b := newBoxTank(0.2, 0.14, 0.16, 0.02)
	s := b.space()
	rapid.Check(t, func(t *rapid.T) {
		wish := drawWish(t, b)
		wish.Bare = geometry.Span{To: math.Inf(1)}
		place, miss := s.Fit(wish)
		if miss != nil && miss.Reason != NothingBare {
			return
		}
		rod := s.Rod(place)
		strict, loose := longestRun(&s, &b.wall, &rod, s.Clearance+traceStep), longestRun(&s, &b.wall, &rod, s.Clearance)
		// the ends are whole millimetres within the run; a sleeved tip is 10 mm at least
		if miss != nil {
			require.Less(t, strict, 0.010+0.010)
			return
		}
		require.GreaterOrEqual(t, place.Bare.Length(), strict-0.003-max(0, 0.010-place.Radius))
		require.LessOrEqual(t, place.Bare.Length(), loose+2*runStep)
	})
}

const runStep = 0.0005 // m

// longestRun returns the length of the longest wet stretch of the axis whose bare metal is
// farther than clearance from every facet, m.
func longestRun(s *Space, m *geometry.Mesh, rod *geometry.Rod, clearance float64) float64 {
	longest, run := 0.0, 0.0
	for at := rod.Radius; ; at += runStep {
		p, _ := rod.At(at)
		if s.Surface.Height(p) >= 0 {
			return longest
		}
		run += runStep
		if bruteDistance(m, p) < clearance+rod.Radius {
			run = 0
		}
		whole := run
		if at-run <= rod.Radius {
			whole += rod.Radius // with the round tip
		}
		longest = max(longest, whole)
	}
}

func TestReasons(t *testing.T) {
	b := newBoxTank(0.4, 0.3, 0.2, 0)
	s := b.space()
	side := vessel.Opening{Name: "sender", Centre: geometry.V(0.2, 0, 0.1), Axis: geometry.V(1, 0, 0), Diameter: 0.1}
	bare := geometry.Span{To: math.Inf(1)}
	for name, c := range map[string]struct {
		place Place
		want  Reason
		by    float64
	}{
		"beside the opening": {Place{U: 0.025, Tip: geometry.V(0.025, 0, 0.05), Radius: 0.005, Bare: bare}, NotThrough, 0.003}, // 25 + 5 + 2 + 1 − 30
		"above the liquid":   {Place{Tip: geometry.V(0, 0, 0.25), Radius: 0.005, Bare: bare}, NotThrough, 0.06},
		"hardly wet":         {Place{Tip: geometry.V(0, 0, 0.195), Radius: 0.005, Bare: bare}, NotIn, 0.005},
		"through the floor":  {Place{Tip: geometry.V(0, 0, -0.05), Radius: 0.005, Bare: bare}, HitsSteel, 0.006},
		"on the floor":       {Place{Tip: geometry.V(0, 0, 0), Radius: 0.005, Bare: geometry.Span{To: 0.02}}, HitsSteel, 0.001},
	} {
		_, miss := s.Fit(c.place)
		require.NotNil(t, miss, name)
		assert.Equal(t, c.want, miss.Reason, name)
		assert.InDelta(t, c.by, miss.By, 1e-6, name)
	}
	outer := s
	mesh := b.wall
	outer.Openings = append(outer.Openings, side)
	cut, _, _, _ := side.Disc().Cut(&mesh)
	outer.Steel = geometry.NewTree(&cut)
	_, miss := outer.Fit(Place{U: -0.005, Tip: geometry.V(0.24, 0, 0.08), Radius: 0.003, Bare: bare})
	require.NotNil(t, miss)
	assert.Equal(t, LeavesTank, miss.Reason)
}

func TestDepthAndLeanByHand(t *testing.T) {
	s := newBoxTank(0.4, 0.3, 0.2, 0).space()
	p := Place{Tip: geometry.V(-0.1, 0, 0.1), Radius: 0.005}
	angle, toward := s.Lean(p) // 100 mm aside on 100 mm down
	assert.InDelta(t, math.Pi/4, angle, 1e-12)
	assert.InDelta(t, 0, toward.Dist(geometry.V(1, 0, 0)), 1e-12)
	assert.InDelta(t, 0.1*math.Sqrt2, s.Depth(p), 1e-12)
	rod := s.Rod(p)
	assert.InDelta(t, s.Depth(p)+0.06, rod.Length(), 1e-12)
	assert.Equal(t, 0.007, rod.Sleeve)
}

func TestPlaceOfARodGivesItsPlace(t *testing.T) {
	b := newBoxTank(0.2, 0.14, 0.16, 0.02)
	s := b.space()
	rapid.Check(t, func(t *rapid.T) {
		want, miss := s.Fit(drawWish(t, b))
		if miss != nil {
			return
		}
		rod := s.Rod(want)
		got, ok := s.PlaceOf(&rod)
		require.True(t, ok)
		require.InDelta(t, want.U, got.U, 1e-12)
		require.InDelta(t, want.V, got.V, 1e-12)
		require.Equal(t, want.Tip, got.Tip)
		require.Equal(t, want.Bare, got.Bare)
	})
	bent := geometry.Rod{Path: []geometry.Vec{{}, {Z: 0.1}, {X: 0.1, Z: 0.2}}, Bare: []geometry.Span{{To: 0.1}}}
	_, ok := s.PlaceOf(&bent)
	assert.False(t, ok)
}

// By hand: 200 mm to the floor, 30 mm short of it, bare to the brim; 12 and 40 mm pass a
// 60 mm opening in a 2 mm sleeve with 1 mm play, 56 mm does not.
func TestNaiveByHand(t *testing.T) {
	b := newBoxTank(0.4, 0.3, 0.2, 0.1)
	s := b.space()
	s.Radii = []float64{0.020, 0.028, 0.006}
	rod, ok := s.Naive()
	require.True(t, ok)
	assert.InDelta(t, 0, rod.Path[0].Dist(geometry.V(0.1, 0, 0.03)), 1e-12)
	assert.InDelta(t, 0, rod.Path[1].Dist(geometry.V(0.1, 0, 0.26)), 1e-12)
	assert.Equal(t, 0.020, rod.Radius)
	assert.InDelta(t, 0.17, rod.Bare[0].To, 1e-12)

	baffle := geometry.Mesh{Vertices: []geometry.Vec{{Z: 0.12, X: -1, Y: -1}, {Z: 0.12, X: 1, Y: -1}, {Z: 0.12, Y: 2}}, Faces: [][3]int32{{0, 1, 2}}}
	b.wall.Append(baffle)
	s.Steel = geometry.NewTree(&b.wall)
	s.Surface.Offset = 0.17
	rod, ok = s.Naive()
	require.True(t, ok)
	assert.InDelta(t, 0.15, rod.Path[0].Z, 1e-12, "a sheet on the way is the first steel")
	assert.InDelta(t, 0.02, rod.Bare[0].To, 1e-12, "bare to the surface, 20 mm above the tip")
	s.Surface.Offset = 0.14
	_, ok = s.Naive()
	assert.False(t, ok, "30 mm above the sheet is out of the liquid")
}

// Rods 20 mm apart, 14 mm wide in their sleeves: 6 mm between. At 14.5 mm the play of 1 mm is short by 0.5.
func TestRodsApart(t *testing.T) {
	s := newBoxTank(0.4, 0.3, 0.2, 0).space()
	rod := func(u float64) geometry.Rod {
		return s.Rod(Place{U: u, Tip: geometry.V(u, 0, 0.05), Radius: 0.005, Bare: geometry.Span{To: 0.05}})
	}
	assert.Nil(t, s.apart([]geometry.Rod{rod(-0.01), rod(0.01)}))
	miss := s.apart([]geometry.Rod{rod(0), rod(0.0145)})
	require.NotNil(t, miss)
	assert.Equal(t, RodsMeet, miss.Reason)
	assert.InDelta(t, 0.0005, miss.By, 1e-12)
	crossing := s.Rod(Place{Tip: geometry.V(0.1, 0, 0.05), U: -0.02, Radius: 0.005, Bare: geometry.Span{To: 0.05}})
	assert.NotNil(t, s.apart([]geometry.Rod{rod(0), crossing}))
}

func TestMisfitSaysByHowMuch(t *testing.T) {
	assert.Equal(t, "does not pass the opening, by 3.0 mm", (&Misfit{NotThrough, 0.003}).Error())
	assert.Equal(t, "more current on the rod's metal than allowed, by 250 A/m²", (&Misfit{OverLimit, 250}).Error())
}

func BenchmarkFit(b *testing.B) {
	tank := newBoxTank(0.4, 0.3, 0.2, 0.1)
	s := tank.space()
	p := Place{U: 0.01, Tip: geometry.V(-0.05, 0.02, 0.03), Radius: 0.005, Bare: geometry.Span{To: math.Inf(1)}}
	for b.Loop() {
		if _, miss := s.Fit(p); miss != nil {
			b.Fatal(miss)
		}
	}
}
