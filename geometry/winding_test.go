package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A cube's face is seen from its centre as a sixth of everything around, one octant of a
// corner as an eighth.
func TestSolidAngleOfKnownFacets(t *testing.T) {
	octant := Triangle{Vec{1, 0, 0}, Vec{0, 1, 0}, Vec{0, 0, 1}}
	assert.InDelta(t, math.Pi/2, octant.SolidAngle(Vec{}), 1e-14)
	face := Triangle{Vec{1, -1, -1}, Vec{1, 1, -1}, Vec{1, 1, 1}}.SolidAngle(Vec{}) +
		Triangle{Vec{1, -1, -1}, Vec{1, 1, 1}, Vec{1, -1, 1}}.SolidAngle(Vec{})
	assert.InDelta(t, 4*math.Pi/6, face, 1e-14)
}

func TestWindingCountsShells(t *testing.T) {
	two := unitCube()
	second := unitCube()
	two.Append(second.Transformed(func(v Vec) Vec { return v.Add(Vec{0.5, 0.5, 0.5}) }))
	for _, c := range []struct {
		p    Vec
		want float64
	}{{Vec{0.2, 0.2, 0.2}, 1}, {Vec{0.7, 0.7, 0.7}, 2}, {Vec{1.2, 0.2, 0.2}, 0}, {Vec{1.2, 1.2, 1.2}, 1}} {
		assert.InDelta(t, c.want, two.Winding(c.p), 1e-12, "%v", c.p)
	}
	half := unitCube()
	half.Faces = half.Faces[2:] // the floor taken off: a sixth of what is seen from the middle
	assert.InDelta(t, 5.0/6, half.Winding(Vec{0.5, 0.5, 0.5}), 1e-14)
}

// A ball with its skin crumpled by waves of a tenth of the radius.
func crumpledBall() Mesh {
	ball := sphereMesh(40, 1, Vec{})
	return ball.Transformed(func(v Vec) Vec {
		return v.Scale(1 + 0.1*math.Sin(7*v.X)*math.Cos(5*v.Y+1)*math.Sin(6*v.Z+2))
	})
}

// The stated accuracy: 0.04 against the direct sum, for a closed surface, one with a
// hole and one that is rough.
func TestFastWindingAgreesWithTheSum(t *testing.T) {
	open := sphereMesh(40, 1, Vec{})
	open.Faces = open.Faces[600:]
	for name, m := range map[string]Mesh{"crumpled": crumpledBall(), "open": open, "cube": unitCube()} {
		tree := NewTree(&m)
		fast := NewWinding(tree)
		worst := 0.0
		rapid.Check(t, func(t *rapid.T) {
			p := drawVec(t, "p").Scale(1.4)
			worst = max(worst, math.Abs(m.Winding(p)-fast.At(p)))
			require.InDelta(t, m.Winding(p), fast.At(p), 0.04, name)
		})
		t.Logf("%s: worst difference %.1e", name, worst)
	}
}

// Two independent routes to inside: the winding number and the parity of a ray.
func TestWindingAgreesWithParity(t *testing.T) {
	m := crumpledBall()
	tree := NewTree(&m)
	fast := NewWinding(tree)
	rapid.Check(t, func(t *rapid.T) {
		p := drawVec(t, "p").Scale(1.2)
		if _, _, d := tree.Closest(p); d < 1e-9 {
			return
		}
		odd := len(tree.Crossings(p, Vec{0.3, 0.5, 0.7}, nil))%2 == 1
		require.Equal(t, odd, fast.At(p) > 0.5)
	})
}
