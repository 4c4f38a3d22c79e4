package plan

import (
	"fmt"
	"slices"

	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/render"
)

// addChargeMap adds the picture of what charge the wall has at the end of several stations, all
// current counted alike; one station's is its current density times its hours.
func (c *closeUp) addChargeMap(a *report.Answer) error {
	if len(c.stations) < 2 {
		return nil
	}
	tank := c.solved[0].Basin.Tank
	scene := tank.Scene(c.stations[0].Anodes)
	for _, s := range c.stations[1:] {
		scene.Rods = append(scene.Rods, rodsOf(s.Anodes)...)
	}
	scene.Surface = c.charged(&scene)
	scene.Least = tank.Job.Aim.Charge / 3600
	scene.Notes = render.Notes{Field: fieldNote, Warnings: a.Result.Warnings}
	for _, p := range render.LeastReached(scene.Surface, render.PatchSettings{Below: scene.Least, From: scene.Openings[0].Centre, Sides: scene.Sides}) {
		if p.Least < scene.Least {
			scene.Patches = append(scene.Patches, p)
		}
	}
	image, err := render.Charge(scene, render.Settings{})
	if err != nil {
		return fmt.Errorf("the picture of the charge: %w", err)
	}
	a.Pictures = append(a.Pictures, report.Picture{Name: "charge.png", Image: image})
	return nil
}

// charged returns the wall with its charge, A h/m². Where the tank is turned it is that of all attitudes,
// and the liquid's line is left out, as it stands in several ways.
func (c *closeUp) charged(scene *render.Scene) render.Surface {
	var tanks []*Tank
	at := make([]int, len(c.solved)) // of each station its tank
	for i, s := range c.solved {
		at[i] = slices.IndexFunc(tanks, func(t *Tank) bool { return t.Turn == s.Basin.Turn })
		if at[i] < 0 {
			at[i], tanks = len(tanks), append(tanks, s.Basin.Tank)
		}
	}
	first := c.solved[0].Basin
	limit := 2.5 * first.Laid.Liquid.Lattice.H
	add := func(to, density []float64, i int) []float64 {
		if to == nil {
			to = make([]float64, len(density))
		}
		for k, j := range density {
			to[k] += j * c.stations[i].Duration / 3600
		}
		return to
	}
	var charge []float64
	if len(tanks) == 1 {
		for i, s := range c.solved {
			charge = add(charge, s.Density, i)
		}
		return paintedBy(scene.Surface, first.Recovery().Patches.Finder, charge, first.Turn, limit)
	}
	wall := newCommonWall(tanks, first.Recovery().Patches.H)
	for i, s := range c.solved {
		charge = add(charge, wall.from(s.Basin, at[i]).spread(s.Density), i)
	}
	scene.Liquid = render.Plane{}
	return paintedBy(wall.drawn(), wall.wetFinder, charge, geometry.Identity(), limit)
}
