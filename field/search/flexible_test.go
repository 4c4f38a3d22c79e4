package search

import (
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/passage"
)

// lowTank is a long low box with a filler of 80 mm at one end, wide enough for spacers.
func lowTank() boxTank {
	b := newBoxTank(0.6, 0.2, 0.12, 0.22)
	b.filler.Diameter = 0.080
	mesh := b.box.Mesh(0.02)
	b.wall, _, _, _ = b.filler.Disc().Cut(&mesh)
	return b
}

// In a box the axis lies a spacer's radius above the floor, and the millimetre of play: by hand,
// 25 mm of clearance and 5 mm of metal make spacers of 60 mm, so 31 mm. They stand 80 mm apart at
// most, the first 10 mm from the tip, and the bare metal keeps what it is to keep.
func TestAFlexibleAnodeLiesOnItsSpacers(t *testing.T) {
	space := lowTank().space()
	space.Flexible, space.LeastBend = true, 0.030
	p, miss := space.Fit(Place{Radius: 0.005, Flexible: true, Bend: space.leastBendOf(0.005), Tip: geometry.V(-0.15, 0.03, 0.09), Bare: geometry.Span{To: 1}})
	require.Nil(t, miss)
	assert.InDelta(t, 0.031, p.Tip.Z, 0.0006)
	assert.InDelta(t, 0.031, p.Corner.Z, 0.0006)
	assert.Equal(t, geometry.V(-0.15, 0.03, p.Tip.Z), p.Tip)
	assert.InDelta(t, 0, p.Corner.Sub(space.passes(p)).WithAxis(2, 0).Norm(), 1e-12, "it hangs plumb")
	rod := space.Rod(p)
	assert.GreaterOrEqual(t, passage.LeastBend(rod.Path), 0.030, "its course bends no more than it takes")
	assert.GreaterOrEqual(t, geometry.BareClearance(&rod, space.Steel, nil).Distance, 0.025)
	for i, k := range rod.Spacers {
		assert.InDelta(t, 0.030, k.Radius, 1e-9)
		if i > 0 {
			assert.LessOrEqual(t, k.At-rod.Spacers[i-1].At, 0.0805)
		}
	}
	assert.InDelta(t, 0.010, rod.Spacers[0].At, 1e-9)
	assert.Nil(t, space.ThreadsIn(p))

	far := p
	far.Tip = geometry.V(-0.29, 0, 0.03) // 10 mm from the end wall
	_, miss = space.Fit(far)
	require.NotNil(t, miss)
	assert.Equal(t, NothingBare, miss.Reason)
	narrow := space
	narrow.Openings = append(narrow.Openings[:0:0], space.Openings...)
	narrow.Openings[0].Diameter = 0.058 // the spacers are 60 mm
	_, miss = narrow.Fit(p)
	require.NotNil(t, miss)
	assert.Equal(t, NotThrough, miss.Reason)
}

// On a floor that falls by more than 30 degrees nothing stays where it is put.
func TestAFlexibleAnodeSlidesOnASteepFloor(t *testing.T) {
	b := lowTank()
	steep := b.space()
	turn := geometry.RotationAbout(geometry.V(0, 1, 0), 35*math.Pi/180)
	steep.Surface.Normal = turn.Apply(steep.Surface.Normal)
	steep.Surface.Offset = steep.Surface.Normal.Dot(b.filler.Centre)
	steep.Flexible = true
	fits := 0
	for x := -0.2; x < 0.2; x += 0.01 {
		if _, miss := steep.Fit(Place{Radius: 0.005, Flexible: true, Bend: 0.05, Tip: geometry.V(x, 0, 0.05), Bare: geometry.Span{To: 1}}); miss == nil {
			fits++
		}
	}
	assert.Zero(t, fits)
}

// In a low tank a flexible anode does better than any straight one; straight ones are looked for all
// the same, and what is named keeps the clearance however the hand is off and goes in along its
// course. The same on one core and on eight.
func TestAFlexibleAnodeReachesFarther(t *testing.T) {
	p, g := problem(lowTank(), 0.03)
	g.limit = 3
	p.Space.LeastBend = 0.025
	p.Space.Off = geometry.Play{Position: 0.003, Tilt: 0.02, Depth: 0.003}
	s := quick()
	straight := found(t, p, s)
	p.Space.Flexible = true
	both, err := Reachable(t.Context(), p, s)
	require.NoError(t, err)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	lying := found(t, p, s)
	runtime.GOMAXPROCS(8)
	again := found(t, p, s)
	assert.Equal(t, lying.Best, again.Best)
	alone := Judge(both, p.Aim, &straight.Best.Exposure)
	t.Logf("straight %+v, flexible %+v, %+v", alone, lying.Best.Verdict, lying.Tally.Lying)
	assert.True(t, lying.Best.Verdict.Better(alone))
	assert.Positive(t, lying.Tally.Lying.Threaded)
	assert.Zero(t, lying.Tally.Bent.Tried)
	assert.Greater(t, lying.Tally.Tried, lying.Tally.Lying.Tried)
	flexible := 0
	for _, c := range append(lying.Alternatives, lying.Best) {
		q := c.Places[0]
		if !q.Flexible {
			continue
		}
		flexible++
		rod := p.Space.Rod(q)
		hold := p.Space.holdAt(q, &rod)
		assert.GreaterOrEqual(t, geometry.HeldClearance(&rod, p.Space.Steel, hold, p.Space.Off).Distance, p.Space.Clearance-1e-9)
		assert.True(t, passage.Find(passage.Way{Rod: &rod, Hold: hold, Steel: p.Space.Steel, Rim: 0.040, Flexible: true}).In)
	}
	assert.Positive(t, flexible)
}
