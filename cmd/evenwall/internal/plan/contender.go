package plan

import (
	"context"
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field"
	"evenwall/field/search"
	"evenwall/field/station"
	"evenwall/geometry"
)

// contender is one of the layouts that are compared: rods that hang in one position, or in
// several in turn.
type contender struct {
	name     string
	stations []job.Station
	ground   *ground
	tanks    []*Tank     // in each of the ground's attitudes, as the contender's job has it
	basin    *Basin      // the fine one of the first station's attitude, likewise
	solved   []*Solved   // of each station
	fine     [][]float64 // current density of each on the ground's figured patches, A/m²
	mean     []float64   // the same by the stations' times, A/m²
	onto     [][]float64 // of each station on the patches that are judged, A/m²
	schedule *station.Schedule
	gaps     []Gaps // of each station
}

// solve computes the field of every station.
func (c *contender) solve(ctx context.Context) error {
	g := c.ground
	for _, s := range c.stations {
		k := g.at(c.tanks, s.Attitude)
		fine := g.lies[k].fine.as(c.tanks[k])
		if err := fine.Hangs(s); err != nil {
			return err
		}
		solved, err := fine.Solve(ctx, s.Anodes)
		if err != nil {
			return err
		}
		c.solved, c.gaps = append(c.solved, solved), append(c.gaps, fine.Gaps(s.Anodes))
		if err := c.lay(ctx, k, solved); err != nil {
			return err
		}
	}
	return nil
}

// lay lays a solved station on the wall that is judged and on the one that figures are of.
func (c *contender) lay(ctx context.Context, k int, solved *Solved) error {
	g := c.ground
	if g.wall != nil {
		c.fine = append(c.fine, g.fineWall.from(solved.Basin, k).spread(solved.Density))
		c.onto = append(c.onto, g.wall.from(solved.Basin, k).spread(solved.Density))
		return nil
	}
	coarse := g.coarse.as(c.tanks[k])
	rough, err := coarse.solve(ctx, solved.Anodes, forJudging)
	if err != nil {
		return err
	}
	c.fine, c.onto = append(c.fine, solved.Density), append(c.onto, solved.onto(coarse, rough.recovered()))
	return nil
}

// judge times the contender on the wall that counts: by the stations' own times in their
// proportion, or by the best ones when it has none.
func (c *contender) judge() (err error) {
	aim, rates := aimOf(c.basin.Job.Aim), make([][]float64, len(c.onto))
	seconds, timed := make([]float64, len(c.onto)), 0.0
	for i, j := range c.onto {
		rates[i] = station.Threshold.Rates(aim, j)
		seconds[i] = c.stations[i].Duration
		timed += seconds[i]
	}
	if len(rates) > 1 && timed > 0 {
		c.schedule, err = station.Keep(c.ground.patches, aim, rates, seconds)
	} else {
		c.schedule, err = station.Plan(c.ground.patches, aim, rates)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", c.name, err)
	}
	c.mean = make([]float64, len(c.fine[0]))
	for i, share := range c.shares() {
		for k, j := range c.fine[i] {
			c.mean[k] += share * j
		}
	}
	return nil
}

// shares returns the part of the time that each station gets.
func (c *contender) shares() []float64 {
	shares, total := append([]float64(nil), c.schedule.Seconds...), c.schedule.Total()
	for i := range shares {
		if total > 0 {
			shares[i] /= total
		} else {
			shares[i] = 1 / float64(len(shares))
		}
	}
	return shares
}

// compared returns the contender's row of the table.
func (c *contender) compared() report.Compared {
	j, wall := c.basin.Job, c.ground.figured()
	u := field.NewUniformity(c.ground.wetted(wall.All, c.mean))
	never := field.NewUniformity(c.ground.wetted(wall.All, c.most())).Below(j.Aim.Least)
	after := c.schedule.ReachedAfter(1*day, 3*day, 10*day)
	out := report.Compared{
		Name: c.name, Hours: hoursOf(c.schedule.Finish), Reached: report.Reached{One: after[0], Three: after[1], Ten: after[2]},
		ReachFraction: 1 - never, NeverM2: never * c.ground.wet(),
		ReachableM2: c.ground.patches.ReachableArea(), WettedM2: c.ground.wet(),
		MeanAM2: u.Mean(), P5AM2: u.Percentile(0.05), P50AM2: u.Percentile(0.5), P95AM2: u.Percentile(0.95),
		BelowHalf: u.Below(0.5 * u.Mean()), LimitMM: 1000 * j.Search.Clearance, Nominal: j.Search.Tolerance.IsZero(),
		MinMM: math.Inf(1), RimMM: math.Inf(1), WorstMM: math.Inf(1),
	}
	if out.MeanAM2 > 0 {
		out.Evenness = out.P5AM2 / out.MeanAM2
	}
	c.laws(&out)
	c.positions(&out)
	return out
}

// laws adds the hours by the other laws of how wall changes.
func (c *contender) laws(out *report.Compared) {
	seconds := c.shares()
	band := station.Spread(c.ground.patches, aimOf(c.basin.Job.Aim), c.onto, seconds)
	out.HoursAsGiven, out.HoursRoot = hoursOf(band[station.AsGiven]), hoursOf(band[station.Root])
}

// positions adds current and clearances of the stations.
func (c *contender) positions(out *report.Compared) {
	for i, share := range c.shares() {
		s, g := c.solved[i], &c.gaps[i]
		out.CurrentA += share * s.Current
		out.VoltageV += share * s.Terminal
		out.MinMM = min(out.MinMM, 1000*g.Wet.Distance)
		out.RimMM = min(out.RimMM, 1000*g.All.Distance)
		out.WorstMM = min(out.WorstMM, 1000*g.Worst())
		out.Met = i == 0 || out.Met
		out.Met = out.Met && g.check(c.basin.Job.Search.Clearance).Met
		if len(c.solved) > 1 {
			out.Stations = append(out.Stations, report.Station{Name: c.stations[i].Name, Hours: c.schedule.Seconds[i] / 3600})
		}
	}
}

// most returns the most that each patch gets at any station, A/m².
func (c *contender) most() []float64 {
	most := append([]float64(nil), c.fine[0]...)
	for _, density := range c.fine[1:] {
		for k, j := range density {
			most[k] = max(most[k], j)
		}
	}
	return most
}

// hoursOf returns a time in hours, nil for never.
func hoursOf(f station.Finish) *float64 {
	hours, ever := f.Hours()
	if !ever {
		return nil
	}
	return &hours
}

// plumbRod is what the rod that anyone would hang is called.
const plumbRod = "plumb rod"

// plumb returns the rod that anyone would hang in the tank of a job.
func (g *ground) plumb(k int, t *Tank, s job.Station) (job.Station, error) {
	h := g.hunt(k, t, s)
	space := h.problem().Space
	rod, ok := space.Naive()
	if !ok {
		return job.Station{}, t.Job.Blame(job.Fault{Key: "tank.openings", Text: "no rod can hang plumb in the middle of the widest opening: nothing to compare with; leave out --naive"})
	}
	place, ok := space.PlaceOf(&rod)
	anodes := h.anodes(&search.Candidate{Rods: []geometry.Rod{rod}})
	if ok {
		anodes[0].Through = t.Openings[place.Opening].Name
	}
	anodes[0].Name = plumbRod
	if err := t.hangs(&anodes[0]); err != nil {
		return job.Station{}, t.Job.Blame(job.Fault{Key: "tank.openings", Text: fmt.Sprintf("the rod that anyone would hang, plumb down the middle of the %s, %v: nothing to compare with; leave out --naive", anodes[0].Through, err)})
	}
	return job.Station{Name: plumbRod, Attitude: s.Attitude, Anodes: anodes}, nil
}
