package plan

import (
	"fmt"

	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
)

// Air is what stays dry below the level when the tank is filled slowly as it is propped.
// The zero value is none, or not looked for.
type Air struct {
	Pockets []vessel.Pocket
	Walls   []vessel.PocketWall // what each pocket means for the wall
	raster  *raster             // that they were found on; nil without pockets
	cells   []int32             // by cell of raster: its pocket, -1 for none
	wet     vessel.Wetted       // wall under the level that stays wet with them in
	dry     vessel.Wetted       // and that they keep dry
}

// leastPocket is how many cells a pocket has at least: fewer are a corner that the raster
// is too coarse for.
const leastPocket = 27

// findAir looks for air in the tank as it is filled.
func (t *Tank) findAir() (Air, error) {
	if _, err := t.Brim(); err != nil {
		return Air{}, nil // without an opening there is nothing that air could be cut off from
	}
	r, err := newRaster(t.Vessel, t.Filling.Surface, cellSize(t.Vessel, rasterCells, mostRasterCells))
	if err != nil {
		return Air{}, fmt.Errorf("the search for trapped air: %w", err)
	}
	air := withoutSpecks(vessel.TrappedAir(r, vessel.Pour{Level: t.Filling.Surface.Offset, Size: r.Lattice.H}))
	if len(air.Pockets) == 0 {
		return Air{}, nil
	}
	wet, dry, walls := t.DryUnder(&t.Filling, &air, r, r.Lattice.H)
	found := Air{Pockets: air.Pockets, Walls: walls, raster: r, cells: air.Pocket, wet: wet, dry: dry}
	return found, nil
}

// keepAir takes the air that was found off the filling: the job says that it stays in.
func (t *Tank) keepAir() {
	for _, w := range t.Air.Walls {
		t.Filling.Volume -= w.Volume
	}
	t.Filling.Wetted = t.Air.wet
	t.Wetted = t.wettedTree()
}

// dryAt returns the test for points of the propped frame that hold trapped air, as the job
// has it; nil when none does.
func (t *Tank) dryAt() func(geometry.Vec) bool {
	if !t.Job.Bath.KeepsAir || t.Air.raster == nil {
		return nil
	}
	return func(p geometry.Vec) bool {
		cell, ok := t.Air.raster.CellAt(p)
		if !ok || t.Air.cells[cell] < 0 {
			return false
		}
		return p.Z > t.Air.Pockets[t.Air.cells[cell]].Surface
	}
}

// withoutSpecks drops the pockets that are too small to be told from the raster's own error.
func withoutSpecks(air vessel.Air) vessel.Air {
	out := vessel.Air{Pocket: air.Pocket}
	for i := range out.Pocket {
		out.Pocket[i] = -1
	}
	for _, p := range air.Pockets {
		if len(p.Cells) < leastPocket {
			continue
		}
		for _, cell := range p.Cells {
			out.Pocket[cell] = int32(len(out.Pockets))
		}
		out.Pockets = append(out.Pockets, p)
	}
	return out
}

// warnAbout says what air would mean for the wall, and what to do about it.
func (t *Tank) warnAbout(air *Air) {
	figures, filled := "the figures are for it let out", "the figures take it as filled"
	if t.Job.Bath.KeepsAir {
		figures, filled = "the figures are with it in, as bath.air says", "the figures are with it empty, as bath.air says"
	}
	for i, p := range air.Pockets {
		w := &air.Walls[i]
		place := fmt.Sprintf("%s, %v", t.third(w.Top), w.Top)
		switch p.Cause {
		case vessel.Trapped:
			t.warn("air stays trapped at %s: %.2f L, %.0f cm2 of wall dry; %s: tilt the tank while filling, or prop it otherwise",
				place, litres(w.Volume), 1e4*w.Area, figures)
		case vessel.Sealed:
			t.warn("no opening leads to %s, %.2f L; %s", place, litres(w.Volume), filled)
		case vessel.Unreached:
			t.warn("liquid runs to %s only once it stands above the level, %.2f L; %s: pour some in there",
				place, litres(w.Volume), filled)
		}
	}
}

// pockets returns the air as result.json has it.
func (a *Air) pockets() []report.AirPocket {
	var out []report.AirPocket
	for i, w := range a.Walls {
		out = append(out, report.AirPocket{VolumeL: litres(w.Volume), AreaM2: w.Area, TopMM: point(w.Top), Cause: a.Pockets[i].Cause.String()})
	}
	return out
}
