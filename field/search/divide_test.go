package search

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/geometry"
)

// By hand, a plumb rod with its tip 50 mm over the floor, 200 mm under the brim: 150 mm are wet,
// which keep 25 mm from the rim of the 60 mm opening; 10 mm of plastic at least part two stretches.
func TestTwoStretchesByHand(t *testing.T) {
	s := newBoxTank(0.4, 0.3, 0.2, 0).space()
	s.Stretches, s.Clearance = 2, 0.02
	for _, c := range [][2]geometry.Span{
		{{From: 0.06, To: 0.1}, {From: 0.06, To: 0.1}},
		{{From: 0.035, To: 0.1}, {From: 0.04, To: 0.1}},         // 10 mm beyond the 30
		{{From: 0.12, To: math.Inf(1)}, {From: 0.12, To: 0.15}}, // as far as it is wet
		{{From: 0.145, To: 0.2}, {}},                            // 5 mm: none
		{{From: 0.02, To: 0.045}, {}},                           // 5 mm are left over 40: none
		{{}, {}},
	} {
		place, miss := s.Fit(Place{Tip: geometry.V(0, 0, 0.05), Radius: 0.005, Bare: geometry.Span{To: 0.03}, More: c[0]})
		require.Nil(t, miss)
		assert.InDelta(t, 0.03, place.Bare.To, 1e-12)
		assert.InDelta(t, c[1].From, place.More.From, 1e-12, "%v", c[0])
		assert.InDelta(t, c[1].To, place.More.To, 1e-12, "%v", c[0])
		rod := s.Rod(place)
		again, ok := s.PlaceOf(&rod)
		require.True(t, ok)
		assert.Equal(t, place, again)
	}
}

// A second stretch keeps the clearance too, every facet tried, and 10 mm of plastic part the two.
func TestSecondStretchByBruteForce(t *testing.T) {
	b := newBoxTank(0.2, 0.14, 0.16, 0.02)
	s := b.space()
	s.Stretches = 2
	two := 0
	rapid.Check(t, func(t *rapid.T) {
		wish := drawWish(t, b)
		wish.Bare = geometry.Span{To: 0.02}
		wish.More = geometry.Span{From: 0.03, To: 0.05 + 0.1*rapid.Float64Range(0, 1).Draw(t, "length")}
		place, miss := s.Fit(wish)
		if miss != nil || place.More.Length() == 0 {
			return
		}
		two++
		rod := s.Rod(place)
		require.GreaterOrEqual(t, place.More.From-place.Bare.To, 0.010-1e-12)
		for at := place.More.From; at <= place.More.To; at += 0.002 {
			p, _ := rod.At(at)
			require.LessOrEqual(t, s.Surface.Height(p), 1e-9)
			require.GreaterOrEqual(t, bruteDistance(&b.wall, p), s.Clearance+rod.Radius-1e-9)
		}
	})
	assert.Positive(t, two)
}

// In a tall tank one stretch long enough to reach both ends gives the middle what it does not need.
func TestTwoStretchesBetterOne(t *testing.T) {
	p, _ := problem(newBoxTank(0.2, 0.2, 0.5, 0), 0.04)
	one := found(t, p, unlimited())
	p.Space.Stretches = 2
	p.Start = [][]geometry.Rod{one.Best.Rods}
	both := found(t, p, unlimited())
	require.Len(t, both.Best.Rods[0].Bare, 2)
	assert.Less(t, both.Best.Verdict.Finish.Seconds, one.Best.Verdict.Finish.Seconds)
	t.Logf("one stretch %.1f h, two %.1f h: %v", one.Best.Verdict.Finish.Seconds/hour, both.Best.Verdict.Finish.Seconds/hour, both.Best.Rods[0].Bare)
	assert.Equal(t, one.Patches.ReachableArea(), both.Patches.ReachableArea(), "what counts does not depend on it")

	p.Space.Stretches = 3
	_, err := Search(t.Context(), p, unlimited())
	assert.ErrorContains(t, err, "3 bare stretches on a rod: give 1 or 2")
}
