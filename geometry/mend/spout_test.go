package mend

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/mend/damage"
	"evenwall/geometry/shape"
)

// spoutLength is how far the tests' spouts go down, m.
const spoutLength = 0.04

// necked returns a box with a neck of the filler's diameter that stands on its roof, open at its top.
func necked(height float64) geometry.Mesh {
	tank := shape.Fitted{Tank: shape.Box{Length: 0.3, Width: 0.2, Height: 0.15}, Necks: []shape.Neck{
		{Centre: filler.Disc.Centre.Add(geometry.V(0, 0, height)), Axis: geometry.V(0, 0, 1), Diameter: 2 * filler.Disc.Radius}}}
	m := tank.Mesh(0.01)
	m.Faces = slices.DeleteFunc(m.Faces, func(f [3]int32) bool {
		return math.Min(m.Vertices[f[0]].Z, math.Min(m.Vertices[f[1]].Z, m.Vertices[f[2]].Z)) > 0.15+height-1e-9
	})
	return m
}

// spouted returns a box whose filler's tube of one sheet goes down inside: a neck turned in.
// gap is how far below the roof it begins.
func spouted(gap float64) geometry.Mesh {
	m := necked(spoutLength)
	for i, v := range m.Vertices {
		if v.Z > 0.15+1e-9 {
			m.Vertices[i].Z = 0.3 - v.Z
		}
	}
	if gap == 0 {
		return m
	}
	var free geometry.Mesh
	m.Faces = slices.DeleteFunc(m.Faces, func(f [3]int32) bool {
		t := geometry.Triangle{A: m.Vertices[f[0]], B: m.Vertices[f[1]], C: m.Vertices[f[2]]}
		c := t.Centroid().Sub(filler.Disc.Centre)
		tube := c.Z < -1e-6 && math.Hypot(c.X, c.Y) < 0.031
		if tube {
			n := int32(len(free.Vertices))
			down := geometry.V(0, 0, -gap)
			free.Vertices = append(free.Vertices, t.A.Add(down), t.B.Add(down), t.C.Add(down))
			free.Faces = append(free.Faces, [3]int32{n, n + 1, n + 2})
		}
		return tube
	})
	m.Append(free)
	return m
}

// A tube of one sheet that goes down from the filler is steel with liquid on both sides, not
// a solid plug: the box keeps its volume and the tube is a sheet. Joined to the roof or
// hanging free below it, whether or not the opening is given, turned either way, damaged.
func TestSpoutOfOneSheet(t *testing.T) {
	given := Settings{Openings: []Opening{filler}}
	joined, hanging := spouted(0), spouted(0.008)
	for name, c := range map[string]struct {
		mesh     geometry.Mesh
		settings Settings
	}{
		"joined": {joined, given}, "not given": {joined, Settings{}}, "inside out": {turnedOver(joined), given},
		"damaged":   {damage.Damage{Flipped: 0.2, Doubled: 0.05, Crack: 0.1e-3}.Apply(joined, 1, nil), given},
		"free":      {hanging, given},
		"free over": {turnedOver(hanging), Settings{}},
	} {
		got, err := Shell(filed(t, c.mesh), c.settings)
		require.NoError(t, err, name)
		isClosed(t, &got.Shell)
		assert.InEpsilon(t, 0.3*0.2*0.15, got.Shell.Volume(), 1e-3, name)
		if assert.Len(t, got.Sheets, 1, name) {
			assert.InEpsilon(t, 2*math.Pi*0.03*spoutLength, got.Sheets[0].Area(), 0.02, name)
		}
		assert.Zero(t, got.Report.Bodies, name)
	}
	got, err := Shell(filed(t, joined), given)
	require.NoError(t, err)
	require.Len(t, got.Report.Spouts, 1)
	assert.InDelta(t, 0, got.Report.Spouts[0].Centre.Dist(filler.Disc.Centre), 1e-4)
	assert.InDelta(t, spoutLength, got.Report.Spouts[0].Length, 1e-4)
	assert.InDelta(t, 0.06, got.Report.Spouts[0].Diameter, 1e-4)
	assert.Equal(t, "filler", got.Report.Holes[0].Opening)
}

// A neck on the roof is no spout: its facets face away from its axis.
func TestNeckIsNoSpout(t *testing.T) {
	got, err := Shell(filed(t, necked(0.02)), Settings{})
	require.NoError(t, err)
	assert.Empty(t, got.Sheets)
	assert.InEpsilon(t, 0.3*0.2*0.15+math.Pi*0.03*0.03*0.02, got.Shell.Volume(), 2e-3)
}
