package search

import (
	"context"
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/station"
	"evenwall/geometry"
)

// shaded is a glow that part of the wall gets nothing of, as wall above the liquid.
type shaded struct {
	*glow
	dry func(p geometry.Vec) bool
}

func (s *shaded) Evaluate(ctx context.Context, rods []geometry.Rod) (Exposure, error) {
	e, err := s.glow.Evaluate(ctx, rods)
	for i, p := range s.at {
		if s.dry(p) {
			e.Rate[i] = 0
		}
	}
	return e, err
}

// seesaw is a long box in two attitudes: in each, the wall of its far end above a height is dry. All
// that is wet in either counts.
func seesaw(height float64) []*Problem {
	var out []*Problem
	for _, side := range []float64{1, -1} {
		p, g := problem(newBoxTank(0.5, 0.2, 0.2, 0), 0.04)
		p.Evaluator = &shaded{g, func(p geometry.Vec) bool { return side*p.X > 0.1 && p.Z > height }}
		p.Counts = make([]bool, len(g.at))
		for i := range p.Counts {
			p.Counts[i] = true
		}
		out = append(out, p)
	}
	return out
}

func tourOf(t *testing.T, p []*Problem, s Settings) *Tour {
	t.Helper()
	r, err := SearchTour(context.Background(), p, s)
	require.NoError(t, err)
	return r
}

// Without turning, the end that stays dry keeps the share out of reach; turned, all of it has its charge.
// The schedule is that of the positions returned, of one attitude after the other.
func TestTurningReachesWhatIsDryInOneAttitude(t *testing.T) {
	p := seesaw(0.06)
	s := quick()
	s.Stations = 3
	alone := found(t, p[0], s)
	require.False(t, alone.Schedule.Finish.Ever)
	r := tourOf(t, p, s)
	require.True(t, r.Schedule.Finish.Ever)
	assert.Contains(t, r.Attitude, 0)
	assert.Contains(t, r.Attitude, 1)
	assert.Equal(t, float64(len(r.Stations)-1)*Price+TurnPrice, r.Price)
	turns := 0
	var rates [][]float64
	for i, c := range r.Stations {
		e, err := p[r.Attitude[i]].Evaluator.Evaluate(context.Background(), c.Rods)
		require.NoError(t, err)
		assert.Equal(t, e.Rate, c.Exposure.Rate)
		rates = append(rates, station.Threshold.Rates(p[0].Aim, e.Rate))
		if i > 0 && r.Attitude[i] != r.Attitude[i-1] {
			turns++
		}
	}
	assert.Equal(t, 1, turns)
	again, err := station.Plan(alone.Patches, p[0].Aim, rates)
	require.NoError(t, err)
	assert.Equal(t, again.Seconds, r.Schedule.Seconds)
}

// An attitude more never makes it longer, whatever it wets, and when it is used it saves what it costs.
func TestAnAttitudeAddedNeverMakesItLonger(t *testing.T) {
	for _, height := range []float64{0.06, 0.14, 0.19, 0.21} {
		p := seesaw(height)
		s := quick()
		s.Stations = 2
		alone := found(t, p[0], s)
		r := tourOf(t, p, s)
		assert.False(t, alone.Schedule.Finish.Before(r.Schedule.Finish), "dry above %g m", height)
		if !alone.Schedule.Finish.Ever {
			assert.GreaterOrEqual(t, r.Schedule.ReachedAfter(10 * day)[0], alone.Schedule.ReachedAfter(10 * day)[0])
			continue
		}
		if price := float64(len(alone.Stations)-1) * Price; r.Price > price {
			assert.Less(t, r.Schedule.Finish.Seconds+r.Price, alone.Schedule.Finish.Seconds+price)
		}
		assert.Equal(t, alone.Schedule.Seconds, tourOf(t, p[:1], s).Schedule.Seconds, "one attitude is a plain search")
	}
}

// An attitude in which nothing fits is left out; with none left it is the usual error.
func TestAnAttitudeInWhichNothingFitsIsLeftOut(t *testing.T) {
	p := seesaw(0.14)
	p[0].Space.Clearance = 0.2
	r := tourOf(t, p, quick())
	assert.Nil(t, r.Results[0])
	assert.Equal(t, []int{1}, r.Attitude)
	p[1].Space.Clearance = 0.2
	_, err := SearchTour(context.Background(), p, quick())
	var none *NoWayError
	assert.True(t, errors.As(err, &none))
}
