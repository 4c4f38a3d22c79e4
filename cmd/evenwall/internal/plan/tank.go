package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sync"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// Tank is a job's tank made ready: its steel, propped and filled. Every point in it is in
// the tank's own frame; vessel.Vessel's Turn leads to the propped one, in which lattices
// stand.
type Tank struct {
	*vessel.Vessel
	Job      *job.Job
	Filling  vessel.Filling        // as though no air were trapped and nothing hung in it
	Capacity float64               // to the brim, m³; all of the inside when no opening is open
	Air      Air                   // what would stay dry below the level; Filling takes it as let out
	Steel    func() *geometry.Tree // all wall and baffles, for distances; see withRims
	Wetted   func() *geometry.Tree // wall and baffles below the level, for distances; likewise
	Silted   func() *geometry.Tree // Steel with what lies on the floor as propped
	Read     *Read                 // of the shell's file; nil with a shape
	Warnings []string
	lasting  int // how many of Warnings, the first ones, hold in any attitude
	inside   inside
}

// NewTank reads or makes the tank of a job, props it, and fills it to the job's level. An
// error is the job's fault, or ctx's when that ends.
func NewTank(ctx context.Context, j *job.Job, attitude job.Attitude) (*Tank, error) {
	t, err := filledTank(j, attitude)
	if err != nil {
		return nil, err
	}
	return t, t.breathe(ctx)
}

// filledTank returns the tank with the air in it not looked for yet.
func filledTank(j *job.Job, attitude job.Attitude) (*Tank, error) {
	t, err := emptyTank(j, attitude)
	if err != nil {
		return nil, err
	}
	return t, t.fill()
}

// Propped returns the same tank in another attitude, filled anew.
func (t *Tank) Propped(ctx context.Context, attitude job.Attitude) (*Tank, error) {
	other := *t
	other.Vessel = t.Turned(attitude.Rotation())
	other.Warnings = append([]string(nil), t.Warnings[:t.lasting]...)
	if err := other.fill(); err != nil {
		return nil, err
	}
	return &other, other.breathe(ctx)
}

// emptyTank returns the tank propped, with what its surface gives reason to warn about.
func emptyTank(j *job.Job, attitude job.Attitude) (*Tank, error) {
	s, err := readSteel(j)
	if err != nil {
		return nil, err
	}
	if err := s.addSheets(j); err != nil {
		return nil, err
	}
	made := make(chan inside, 1) // beside the vessel, which takes as long in a fine mesh
	go func() { made <- newInside(&s.shell) }()
	v, err := vessel.New(vessel.Tank{Shell: s.shell, Baffles: s.baffles, Openings: openingsOf(j), Turn: attitude.Rotation(), Rough: s.rough()})
	if err != nil {
		return nil, j.Blame(job.Fault{Key: "tank", Text: err.Error()})
	}
	t := &Tank{Vessel: v, Job: j, Read: s.read, Warnings: append(s.warnings, j.Warnings()...), inside: <-made}
	t.Steel = sync.OnceValue(func() *geometry.Tree { return t.withRims(&v.Wall.Mesh) })
	t.checkOpenings()
	t.checkScale()
	t.lasting = len(t.Warnings)
	return t, nil
}

func (t *Tank) warn(format string, args ...any) {
	t.Warnings = append(t.Warnings, fmt.Sprintf(format, args...))
}

// checkOpenings warns about an opening that is nowhere near the wall.
func (t *Tank) checkOpenings() {
	const (
		near   = 0.6 // diameters from the middle to the wall about it
		astray = 0.2 // and from the rim, which on a pipe's side of less than 1.4 diameters stands off more
	)
	for i := range t.Openings {
		o := &t.Openings[i]
		if _, _, d := t.inside.tree.Closest(o.Centre); d > near*o.Diameter {
			t.warn("opening %s lies %.1f mm from the nearest wall: check its centre %v", o.Name, d*1000, o.Centre)
			continue
		}
		step := o.Axis.Unit().Scale(o.Diameter / 2)
		if t.inside.holds(o.Centre.Add(step)) && !t.inside.holds(o.Centre.Sub(step)) {
			t.warn("the axis of opening %s points into the tank: it is to point outward, [%g, %g, %g]", o.Name, 0-o.Axis.X, 0-o.Axis.Y, 0-o.Axis.Z)
		}
		if off := t.rimOff(o); off > max(astray*o.Diameter, 5e-3) {
			t.warn("the rim of opening %s, %.0f mm wide, is up to %.0f mm away from all steel, so it is wider than the tank is there or beside it: check its diameter and centre",
				o.Name, 1000*o.Diameter, 1000*off)
		}
	}
}

// rimOff returns how far the farthest point of an opening's rim is from the steel, m.
func (t *Tank) rimOff(o *vessel.Opening) float64 {
	const points = 24
	u, v := o.Axis.Unit().Perpendicular()
	most := 0.0
	for k := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / points)
		_, _, d := t.inside.tree.Closest(o.Centre.AddScaled(u, cos*o.Diameter/2).AddScaled(v, sin*o.Diameter/2))
		most = math.Max(most, d)
	}
	return most
}

// What tanks that are derusted on a bench hold, m³: beyond, the unit is likely another.
const (
	leastUsual = 0.2e-3
	mostUsual  = 1.0
)

// checkScale holds the capacity that the job states against the tank level, without trapped air.
func (t *Tank) checkScale() {
	if t.Job.Tank.Capacity == 0 {
		if v := t.Whole(); v > mostUsual || v < leastUsual {
			t.warn("the tank holds %.4g L by its surface, which few tanks do: check the unit (mm, cm, m or in), or give the capacity that is known", litres(v))
		}
		return
	}
	holds := t.Whole()
	if brim, err := t.Turned(geometry.Identity()).Brim(); err == nil {
		holds = brim.Volume
	}
	if err := vessel.CheckCapacity(holds, t.Job.Tank.Capacity, t.Job.Tank.Unit); err != nil {
		var scale *vessel.ScaleError
		if errors.As(err, &scale) && t.Read != nil {
			t.Read.LikelyUnit = scale.Unit
		} else if scale != nil {
			scale.Typed = true
		}
		t.warn("%v", err)
	}
}

// levelOf returns a job's level as the vessel takes it.
func levelOf(l job.Level) vessel.Level {
	kinds := map[job.Measure]vessel.LevelKind{
		job.Brim: vessel.ToBrim, job.AboveLowest: vessel.ByHeight, job.BelowRim: vessel.BelowRim, job.Filled: vessel.ByVolume,
	}
	return vessel.Level{Kind: kinds[l.By], Value: l.Value}
}

// fill fills the tank to the job's level.
func (t *Tank) fill() error {
	height, err := t.Resolve(levelOf(t.Job.Bath.Level))
	if err != nil {
		return t.Job.Blame(job.Fault{Key: "bath.level", Text: err.Error()})
	}
	t.fillTo(height)
	return nil
}

// fillTo fills the tank to a height above the lowest inside point, m.
func (t *Tank) fillTo(height float64) {
	t.Filling = t.Fill(height)
	t.Wetted = t.wettedTree()
	t.Silted = sync.OnceValue(t.withSludge)
	t.Capacity = t.Filling.Capacity
	if math.IsNaN(t.Capacity) {
		t.Capacity = t.Whole()
	}
}

// breathe looks for air in the filled tank. It touches Air and Warnings, and where the job
// keeps air in, Filling and Wetted too.
func (t *Tank) breathe(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	var err error
	if t.Air, err = t.findAir(); err != nil {
		return err
	}
	t.warnAbout(&t.Air)
	if t.Job.Bath.KeepsAir {
		t.keepAir()
	}
	return nil
}

// wettedTree returns the tree of the filling's wall, made when it is first asked for: that of
// all steel where all of it is under the liquid.
func (t *Tank) wettedTree() func() *geometry.Tree {
	wetted := &t.Filling.Wetted.Mesh
	if wetted.Is(&t.Wall.Mesh) {
		return t.Steel
	}
	return sync.OnceValue(func() *geometry.Tree { return t.withRims(wetted) })
}

// LiquidVolume returns the volume of liquid with the rods hanging in it, m³: metal and sleeves
// taken off.
func (t *Tank) LiquidVolume(anodes []job.Anode) float64 {
	volume := t.Filling.Volume
	for i := range anodes {
		volume -= vessel.Displaced(&anodes[i].Rod, t.Filling.Surface)
	}
	return volume
}

// result returns the parts of a command's result that are about the tank and its filling.
func (t *Tank) result(command string, anodes []job.Anode) report.Result {
	return report.Result{
		Job: 1, Command: command, Title: t.Job.Title,
		Tank: report.Tank{
			VolumeL: litres(t.LiquidVolume(anodes)), CapacityL: litres(t.Capacity),
			WettedAreaM2: t.Filling.Wetted.Area(), BlindM2: t.blindArea(), Seams: t.Job.Tank.Seams, AirPockets: t.Air.pockets(),
		},
		Bath:     report.Bath{ConductivitySM: t.Job.Bath.Conductivity, LevelMM: 1000 * t.Filling.Height},
		Warnings: t.Warnings,
	}
}

func litres(volume float64) float64 { return 1000 * volume }

func point(v geometry.Vec) report.Point { return report.Point{1000 * v.X, 1000 * v.Y, 1000 * v.Z} }
