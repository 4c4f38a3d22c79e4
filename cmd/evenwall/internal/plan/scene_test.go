package plan

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/render"
)

// A picture's facets are the wall and the openings, each bit of it once: the roof in the
// level is wetted and not dry as well.
func TestSceneShowsAllSteelOnce(t *testing.T) {
	for _, name := range []string{"saddle-tilted", "drum-sleeved", "box-baffle"} {
		tank, _ := referenceTank(t, name)
		assertScene(t, tank, name)
	}
	for _, level := range []string{"brim", "100", "20 mm below rim"} {
		assertScene(t, made(t, fmt.Sprintf(plainBox, 5.0, -3.0, level)), level)
		assertScene(t, made(t, fmt.Sprintf(plainBox, 0.0, 0.0, level)), level)
	}
}

func assertScene(t *testing.T, tank *Tank, name string) {
	s := tank.Scene(tank.Job.Anodes)
	area := map[render.State]float64{}
	for i := range s.Surface.Mesh.Faces {
		area[s.Surface.State[i]] += s.Surface.Mesh.Triangle(i).Area()
	}
	wall := tank.Wall.Area()
	assert.InDelta(t, tank.Filling.Wetted.Area(), area[render.Wetted], 1e-9*wall, name)
	assert.InDelta(t, wall-tank.Filling.Wetted.Area(), area[render.Dry], 1e-4*wall, name)
	assert.InDelta(t, tank.Wall.Hole.Area(), area[render.Open]+area[render.Insulated], 1e-9*wall, name)
	assert.Equal(t, "filler", s.Openings[0].Name)
	assert.InDelta(t, 0, s.Liquid.Height(s.Liquid.Point), 1e-12)
	assert.InDelta(t, tank.Filling.Height, tank.Height(s.Liquid.Point), 1e-12)
}
