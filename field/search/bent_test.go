package search

import (
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/geometry"
	"evenwall/geometry/passage"
)

// longTank is a box of 600 mm with a filler of 40 mm at one end.
func longTank() boxTank {
	b := newBoxTank(0.6, 0.2, 0.2, 0.24)
	b.filler.Diameter = 0.040
	mesh := b.box.Mesh(0.02)
	b.wall, _, _, _ = b.filler.Disc().Cut(&mesh)
	return b
}

// A bent rod does better in a long tank than the best straight one, and where bent ones may be
// tried the straight ones are looked for all the same, so that it is never worse.
func TestABentRodReachesFarther(t *testing.T) {
	p, g := problem(longTank(), 0.03)
	g.limit = 3
	s := quick()
	p.Space.Bent = true
	both, err := Reachable(t.Context(), p, s)
	require.NoError(t, err)
	bent := found(t, p, s)
	p.Space.Bent = false
	straight := found(t, p, s)
	alone := Judge(both, p.Aim, &straight.Best.Exposure)
	t.Logf("straight %+v, bent %+v", alone, bent.Best.Verdict)
	assert.True(t, bent.Best.Verdict.Better(alone))
	require.Greater(t, bent.Best.Places[0].Bend, 0.0)
	assert.Less(t, bent.Best.Places[0].Tip.X, straight.Best.Places[0].Tip.X, "toward the far end")
	assert.Positive(t, bent.Tally.Bent.Threaded)
	assert.Equal(t, Count{}, straight.Tally.Bent)
	assert.Greater(t, bent.Tally.Tried, bent.Tally.Bent.Tried)
}

// Whatever bent rod is named keeps the clearance however the hand is off, in turn about itself
// too, and goes in through its opening by the search that the clearance command makes.
func TestBentRodsThatAreNamedKeepTheLimits(t *testing.T) {
	p, _ := problem(longTank(), 0.04)
	p.Space.Bent = true
	p.Space.Off = geometry.Play{Position: 0.004, Tilt: 0.03, Depth: 0.004}
	s := quick()
	s.Stations, s.Price, s.Refine = 2, 1, 24
	r := found(t, p, s)
	bent := 0
	random := rand.New(rand.NewPCG(1, 2))
	for _, c := range append(append(r.Alternatives, r.Best), r.Stations...) {
		if c.Places[0].Bend == 0 {
			continue
		}
		bent++
		rod, hold := c.Rods[0], p.Space.Hold(&c.Rods[0])
		assert.InDelta(t, p.Space.Depth(c.Places[0]), hold.S, 1e-12)
		for range 200 {
			axis := geometry.V(random.NormFloat64(), random.NormFloat64(), random.NormFloat64()).Unit()
			aside := geometry.V(random.NormFloat64(), random.NormFloat64(), 0).Unit()
			moved := rod.Moved(hold, geometry.Placement{Turn: geometry.RotationAbout(axis, p.Space.Off.Tilt), Shift: aside.Scale(p.Space.Off.Position),
				Slide: p.Space.Off.Depth * math.Copysign(1, random.NormFloat64())})
			require.GreaterOrEqual(t, geometry.BareClearance(&moved, p.Space.Steel, nil).Distance, p.Space.Clearance-1e-6)
		}
		way := passage.Find(passage.Way{Rod: &rod, Hold: hold, Steel: p.Space.Steel, Rim: p.Space.Openings[0].Diameter / 2})
		assert.True(t, way.In)
	}
	require.Positive(t, bent)
}

func TestBentTheSameOnAnyNumberOfCores(t *testing.T) {
	p, _ := problem(longTank(), 0.04)
	p.Space.Bent = true
	cores := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(cores)
	var first *Result
	for _, n := range []int{1, 8} {
		runtime.GOMAXPROCS(n)
		s := quick()
		s.Count, s.Refine = 2, 24
		r := found(t, p, s)
		if first == nil {
			first = r
		}
		require.Equal(t, first, r, "%d cores", n)
	}
}

// A bent rod's place comes back from the rod, and the rod from its place: tip, corner and bend.
func TestPlaceOfABentRodGivesItsPlace(t *testing.T) {
	b := longTank()
	s := b.space()
	s.Bent = true
	fitted := 0
	rapid.Check(t, func(t *rapid.T) {
		wish := drawWish(t, b)
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "corner"), 2))
		size := b.box.Bounds().Size()
		wish.Corner = b.box.Bounds().Min.Add(geometry.V(random.Float64()*size.X, random.Float64()*size.Y, random.Float64()*size.Z))
		wish.U, wish.V, wish.Bend = wish.U/4, wish.V/4, 0.02
		want, miss := s.Fit(wish)
		if miss != nil {
			require.Greater(t, miss.By, 0.0, miss)
			return
		}
		fitted++
		rod := s.Rod(want)
		require.GreaterOrEqual(t, geometry.BareClearance(&rod, s.Steel, nil).Distance, s.Clearance-1e-9)
		require.Greater(t, len(rod.Path), 3)
		got, ok := s.PlaceOf(&rod)
		require.True(t, ok)
		require.InDelta(t, 0, got.Corner.Dist(want.Corner), 1e-7)
		require.InDelta(t, want.Bend, got.Bend, 1e-7)
		require.InDelta(t, 0, math.Hypot(got.U-want.U, got.V-want.V), 1e-7)
		s.Bent = false
		_, ok = s.PlaceOf(&rod)
		s.Bent = true
		require.False(t, ok)
	})
	require.Positive(t, fitted)
}

// By hand, right angles: legs of 100 and 40 mm, an arc of 30 mm: 2 * 30 less a quarter circle is
// cut off the corner. Past 120 degrees or with legs shorter than the arc takes it is turned down.
func TestRoomForABendByHand(t *testing.T) {
	s := newBoxTank(0.4, 0.3, 0.2, 0).space()
	p := Place{Tip: geometry.V(0.1, 0, 0.1), Corner: geometry.V(0, 0, 0.1), Radius: 0.005, Bend: 0.03, Bare: geometry.Span{To: 0.05}}
	assert.InDelta(t, 0.2-0.06+0.015*math.Pi, s.Depth(p), 1e-4, "chords are shorter than the arc")
	_, miss := s.Fit(p)
	assert.Nil(t, miss)
	p.Tip.X = 0.035
	_, miss = s.Fit(p)
	require.NotNil(t, miss)
	assert.Equal(t, NotBent, miss.Reason)
	assert.InDelta(t, 0.005, miss.By, 1e-9, "30 mm of arc and 10 mm of straight leg, 35 mm there")
	p.Tip = geometry.V(0.08, 0, 0.16)
	_, miss = s.Fit(p)
	require.NotNil(t, miss)
	assert.Equal(t, NotBent, miss.Reason, "143 degrees")
}
