package plan

import (
	"context"
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// Which attitudes are looked at for wetting wall that stays dry: by how much the tank leans, degrees,
// the least first, and in how many directions; in a surface with very many facets, and where air is
// looked for in each, only every second lean.
var leans = [6]float64{3, 6, 10, 15, 20, 30}

const (
	leanWays   = 8
	mostlyWet  = 0.9  // share of a piece that is enough
	leastWet   = 0.1  // share of it that is worth to be named
	higherThan = 1e-3 // of the level, m
)

// wetting says what it would take to wet a dry piece of wall: a higher level, or the tank turned.
func (t *Tank) wetting(ctx context.Context, points []wallPoint) ([]string, error) {
	var out []string
	if brim, err := t.Brim(); err == nil && brim.Height > t.Filling.Height+higherThan {
		if share := under(points, t.SurfaceAt(brim.Height)); share >= leastWet {
			words := fmt.Sprintf("would take: filling higher, to the brim: %.0f mm more wet %.0f %% of it", 1000*(brim.Height-t.Filling.Height), 100*share)
			if why := t.Job.Bath.Headspace; why != "" {
				words += " (the job keeps it dry: " + why + ")"
			}
			out = append(out, words)
		}
	}
	best, share, err := t.wettestStance(ctx, points)
	if err != nil {
		return nil, err
	}
	switch {
	case share >= leastWet:
		out = append(out, fmt.Sprintf("would take: turning the tank: pitch %.0f, roll %.0f degrees wet %.0f %% of it (search.attitudes)", degrees(best.Pitch), degrees(best.Roll), 100*share))
	case len(out) == 0:
		out = append(out, fmt.Sprintf("no way of turning the tank by up to %.0f degrees was found that wets it: a plug in the opening that sets the brim, or working it by hand", leans[len(leans)-1]))
	}
	return out, nil
}

// wettestStance returns the attitude that wets most of some wall, and which share: the least lean
// that wets most of it, air that stays there taken off.
func (t *Tank) wettestStance(ctx context.Context, points []wallPoint) (job.Attitude, float64, error) {
	best, most := job.Attitude{}, 0.0
	for i, lean := range leans {
		if (len(t.Shell.Faces) > closelyLooked || t.Job.Bath.KeepsAir) && i%2 == 0 {
			continue
		}
		for k := range leanWays {
			if err := ctx.Err(); err != nil {
				return best, 0, err
			}
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(leanWays))
			a := job.Attitude{Pitch: math.Round(lean*cos) * math.Pi / 180, Roll: math.Round(lean*sin) * math.Pi / 180}
			if share := t.wetIn(ctx, a, points); share > most+1e-6 {
				best, most = a, share
			}
		}
		if most >= mostlyWet {
			break
		}
	}
	if most == 0 {
		return best, 0, nil
	}
	other, err := t.Propped(ctx, best)
	if err != nil {
		return best, 0, err
	}
	return best, other.wetWith(points), nil
}

// wetIn returns the share of some wall that is under the liquid in an attitude, air looked for only
// where the job keeps it in; 0 where the tank does not hold it.
func (t *Tank) wetIn(ctx context.Context, a job.Attitude, points []wallPoint) float64 {
	if t.Job.Bath.KeepsAir {
		other, err := t.Propped(ctx, a)
		if err != nil {
			return 0
		}
		return other.wetWith(points)
	}
	v := t.Turned(a.Rotation())
	height, err := v.Resolve(levelOf(t.Job.Bath.Level))
	if err != nil {
		return 0
	}
	return under(points, v.SurfaceAt(height))
}

// wetWith returns the share of some wall that is under the liquid as the tank is propped, and not
// in air that stays there.
func (t *Tank) wetWith(points []wallPoint) float64 {
	var wet []wallPoint
	for _, p := range points {
		if !t.aired(p.Vec) {
			wet = append(wet, p)
		}
	}
	return under(wet, t.Filling.Surface) * areaOf(wet) / areaOf(points)
}

// aired reports whether a point of the tank's frame lies in air that was found.
func (t *Tank) aired(p geometry.Vec) bool {
	if t.Air.raster == nil {
		return false
	}
	q := t.Turn.Apply(p)
	cell, ok := t.Air.raster.CellAt(q)
	if !ok || t.Air.cells[cell] < 0 {
		return false
	}
	pocket := t.Air.Pockets[t.Air.cells[cell]]
	return pocket.Cause == vessel.Trapped && q.Z > pocket.Surface
}

// under returns the share of some wall below a plane.
func under(points []wallPoint, surface geometry.Plane) float64 {
	below := 0.0
	for _, p := range points {
		if surface.Height(p.Vec) <= 0 {
			below += p.area
		}
	}
	if below == 0 {
		return 0
	}
	return below / areaOf(points)
}

func areaOf(points []wallPoint) float64 {
	sum := 0.0
	for _, p := range points {
		sum += p.area
	}
	return sum
}
