package search

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// handOff is a hand that is off by 10 mm at the rim, 3 degrees and 5 mm of depth.
var handOff = geometry.Play{Position: 0.010, Tilt: 3 * math.Pi / 180, Depth: 0.005}

// A plumb rod in the middle of a filler 0.1 m above its tip: each slip moves the tip by what
// the tolerance and the lever of 0.1 m say, the way it names.
func TestSlipsMoveTheTipTheWayTheySay(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	rod := plumb(p, 0.1)
	hold := p.Space.Hold(&rod)
	assert.InDelta(t, 0, hold.At.Dist(p.Space.Openings[0].Centre), 1e-12)
	slips := Slips(&rod, hold, handOff, 8)
	require.Len(t, slips, 8+8+2)
	for _, s := range slips {
		moved, share := p.Space.Slip(&rod, hold, s)
		require.Equal(t, 1.0, share)
		went := moved.Path[0].Sub(rod.Path[0])
		by := map[SlipKind]float64{Shifted: 0.010, Leaned: 2 * 0.1 * math.Sin(1.5*math.Pi/180), Slid: 0.005}[s.Kind]
		assert.InDelta(t, by, went.Norm(), 1e-12, "kind %d", s.Kind)
		assert.Greater(t, went.Unit().Dot(s.Toward), 0.999, "kind %d", s.Kind)
	}
	assert.InDelta(t, 0, slips[0].Toward.Dist(geometry.V(1, 0, 0)), 1e-12, "the first is to the front")
}

// A foot of 80 mm square to a shank that hangs plumb: turned about it by 3 degrees either way, its
// tip goes aside by the chord, and its height stays.
func TestABentRodIsTurnedAboutItself(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	at := p.Space.Openings[0].Centre
	rod := p.Space.Rod(Place{Corner: at.Add(geometry.V(0, 0, -0.1)), Tip: at.Add(geometry.V(-0.08, 0, -0.1)), Bend: 0.03, Radius: 0.005, Bare: geometry.Span{To: 0.05}})
	hold := p.Space.Hold(&rod)
	slips := Slips(&rod, hold, handOff, 8)
	require.Len(t, slips, 8+8+2+2)
	turned := 0
	for _, s := range slips {
		if s.Kind != Spun {
			continue
		}
		turned++
		moved, share := p.Space.Slip(&rod, hold, s)
		require.Equal(t, 1.0, share)
		went := moved.Path[0].Sub(rod.Path[0])
		assert.InDelta(t, 2*0.08*math.Sin(1.5*math.Pi/180), went.Norm(), 1e-12)
		assert.InDelta(t, 0, went.Z, 1e-12)
		assert.Equal(t, s.Toward.Z < 0, went.Y > 0, "anticlockwise from above takes a tip at the rear to the right")
	}
	assert.Equal(t, 2, turned)
	worse, base := Verdict{Nearly: 0.1}, Verdict{Nearly: 1}
	verdicts := make([]Verdict, len(slips))
	for i := range verdicts {
		verdicts[i] = worse
	}
	assert.Len(t, WorstOfEach(slips, verdicts, base), 3, "leaned or turned, not both")
}

// The filler's radius is 30 mm, the sleeve's 7 mm: a rod shifted by 40 mm stops at the rim.
func TestASlipGoesNoFartherThanSteel(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	rod := plumb(p, 0.1)
	hold := p.Space.Hold(&rod)
	moved, share := p.Space.Slip(&rod, hold, Slip{Shifted, geometry.V(0, 1, 0), 0.040})
	assert.Less(t, share, (0.030-0.007)/0.040+1e-9)
	assert.GreaterOrEqual(t, geometry.OutsideClearance(&moved, p.Space.Steel, geometry.Span{To: moved.Length()}).Distance, 0.0)
}

// worstByHand judges a layout of one rod at each end of each tolerance, and at the worst of
// each at once.
func worstByHand(t *testing.T, p *Problem, r *Result) Verdict {
	t.Helper()
	rod := r.Best.Rods[0]
	hold := p.Space.Hold(&rod)
	look := func(slips ...Slip) Verdict {
		moved, _ := p.Space.Slip(&rod, hold, slips...)
		e, err := p.Evaluator.Evaluate(context.Background(), []geometry.Rod{moved})
		require.NoError(t, err)
		return Judge(r.Patches, p.Aim, &e)
	}
	meant := look()
	worst, of := meant, map[SlipKind]Slip{}
	cost := map[SlipKind]Verdict{Shifted: meant, Leaned: meant, Slid: meant}
	for _, s := range Slips(&rod, hold, p.Space.Off, 4) {
		v := look(s)
		if cost[s.Kind].Better(v) {
			of[s.Kind], cost[s.Kind] = s, v
		}
		if worst.Better(v) {
			worst = v
		}
	}
	var all []Slip
	for _, s := range of {
		all = append(all, s)
	}
	if v := look(all...); worst.Better(v) {
		worst = v
	}
	return worst
}

// What a robust search returns has the better worst case of the two, looked at anew, and says
// what it is.
func TestRobustSearchBettersTheWorstCase(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	p.Space.Off = handOff
	s := quick()
	nominal := found(t, p, s)
	s.Robust = true
	robust := found(t, p, s)
	ofNominal, ofRobust := worstByHand(t, p, nominal), worstByHand(t, p, robust)
	assert.False(t, ofNominal.Better(ofRobust))
	assert.Equal(t, ofRobust, robust.Best.Verdict)
	assert.True(t, nominal.Best.Verdict.Better(ofNominal), "a hand that is off costs something")
	assert.Equal(t, robust.Best.Verdict.Finish.Seconds, robust.Schedule.Total())
}

func TestRobustIsNeverWorseThanTheStart(t *testing.T) {
	p, _ := problem(newBoxTank(0.4, 0.3, 0.2, 0.1), 0.04)
	p.Space.Off = handOff
	s := quick()
	s.Robust = true
	good := found(t, p, s)
	p.Start = [][]geometry.Rod{good.Best.Rods}
	s.Scatter, s.Refine, s.Harden = 1, 1, 1
	assert.False(t, good.Best.Verdict.Better(found(t, p, s).Best.Verdict))
}

// A position more never costs time or wall, at worst as well as as meant.
func TestRobustWithPositionsInTurn(t *testing.T) {
	p, _ := problem(newBoxTank(0.8, 0.3, 0.2, 0), 0.04)
	p.Space.Off = handOff
	s := quick()
	s.Robust, s.Price = true, 1
	alone := found(t, p, s)
	s.Stations = 2
	both := found(t, p, s)
	require.Len(t, both.Stations, 2, "a box so long needs two")
	assert.True(t, (&run{Problem: p}).sooner(both.Schedule, alone.Schedule))
}
