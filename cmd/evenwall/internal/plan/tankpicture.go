package plan

import (
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
	"evenwall/render"
)

// tankPicture draws what the wall is as the tank is filled, with the pockets of air and the
// places that were mended.
func (t *Tank) tankPicture(anodes []job.Anode) (report.Picture, error) {
	scene := t.scene(anodes, t.stated())
	scene.Notes.NoField = true
	image, err := render.Tank(scene, t.spots(), render.Settings{})
	if err != nil {
		return report.Picture{}, fmt.Errorf("the picture of the tank: %w", err)
	}
	return report.Picture{Name: "tank.png", Image: image}, nil
}

// stated returns the steel as drawn, with the wall under pockets and the ceilings near level
// told apart.
func (t *Tank) stated() render.Surface {
	var out render.Surface
	wet := t.Filling.Wetted
	if len(t.Air.Walls) > 0 {
		wet = t.Air.wet
		addFaces(&out, &t.Air.dry, render.Pocket)
	}
	addFaces(&out, &wet, render.Wetted)
	steep := math.Cos(vessel.NearLevel)
	for i, state := range out.State {
		if state == render.Wetted && out.Mesh.Triangle(i).Normal().Dot(t.Up) > steep {
			out.State[i] = render.Ceiling
		}
	}
	dry := t.dryWall()
	addFaces(&out, &dry, render.Dry)
	t.addHoles(&out)
	return out
}

// middleOf returns the middle of a pocket.
func (t *Tank) middleOf(pocket int) geometry.Vec {
	cells, sum := t.Air.Pockets[pocket].Cells, geometry.Vec{}
	for _, c := range cells {
		sum = sum.Add(t.Air.raster.Centre(c))
	}
	return t.Turn.Inverse().Apply(sum.Scale(1 / float64(len(cells))))
}

// mostSpots is how many places are numbered on the picture of the tank.
const mostSpots = 12

// spots returns the pockets and the widest holes that were closed, by place.
func (t *Tank) spots() []render.Spot {
	var out []render.Spot
	for i, w := range t.Air.Walls {
		out = append(out, render.Spot{At: t.middleOf(i), Words: fmt.Sprintf("Air, %s: %.2f L, %s, %v.", t.Air.Pockets[i].Cause, litres(w.Volume), t.third(w.Top), w.Top)})
	}
	if t.Read != nil {
		for _, h := range t.Read.Mended.Holes {
			out = append(out, render.Spot{At: h.Centre, Words: fmt.Sprintf("Hole %.1f mm across, closed as %s: %s, %v.", 1000*h.Across, h.Kind, t.third(h.Centre), h.Centre)})
		}
	}
	return out[:min(len(out), mostSpots)]
}
