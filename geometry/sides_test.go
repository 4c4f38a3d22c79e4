package geometry

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNamesOfDirections(t *testing.T) {
	s := Sides{}
	assert.Equal(t, "front", s.Name(V(2, 0.1, 0)))
	assert.Equal(t, "left front", s.Name(V(1, 1.2, 0)))
	assert.Equal(t, "front right", s.Name(V(1, -0.6, 0)))
	assert.Equal(t, "bottom", s.Name(V(0, 0.2, -1)))
	assert.Equal(t, "left", s.Facing(V(0.1, 0.5, -0.4)))
	assert.Equal(t, "bottom", s.Facing(V(0.1, 0.5, -0.6)))
	assert.Equal(t, [3][2]string{{"rear", "front"}, {"right", "left"}, {"bottom", "top"}}, s.Ends())
	assert.Equal(t, [3][2]string{{"right", "left"}, {"front", "rear"}, {"bottom", "top"}}, FrontAt(V(0, -1, 0)).Ends())
}

func TestThirdsOfATank(t *testing.T) {
	box := Box{Max: V(0.4, 0.25, 0.2)}
	for want, p := range map[string]Vec{
		"front left bottom": V(0.39, 0.24, 0.01),
		"rear right top":    V(0.01, 0.01, 0.19),
		"rear":              V(0.01, 0.12, 0.1),
		"middle":            V(0.2, 0.12, 0.1),
	} {
		assert.Equal(t, want, Sides{}.Third(p, box))
	}
}

// A tank turned by quarters about z with its front keeps all of its words.
func TestWordsTurnWithTheTank(t *testing.T) {
	quarter := Rotation{V(0, -1, 0), V(1, 0, 0), V(0, 0, 1)} // +x to +y, exactly
	box := Box{Min: V(-0.1, -0.2, 0), Max: V(0.3, 0.05, 0.2)}
	for _, d := range []Vec{V(1, 0, 0), V(1, 1, 0), V(-1, 1, 0), V(0.2, -0.7, 0.1), V(0.1, 0.1, 1), V(0.29, -0.19, 0.19)} {
		plain, p, turned, b := Sides{}, d, Sides{}, box
		for range 3 {
			p = quarter.Apply(p)
			b = Box{Min: V(-b.Max.Y, b.Min.X, b.Min.Z), Max: V(-b.Min.Y, b.Max.X, b.Max.Z)}
			turned = FrontAt(quarter.Apply(turned.Front()))
			assert.Equal(t, plain.Name(d), turned.Name(p))
			assert.Equal(t, plain.Third(d.Scale(0.2), box), turned.Third(p.Scale(0.2), b))
			assert.Equal(t, plain.Length(box), turned.Length(b))
			assert.Equal(t, plain.Width(box), turned.Width(b))
			assert.Equal(t, turned.Left(), quarter.Apply(turned.Front()))
		}
		assert.Equal(t, Sides{}, FrontAt(quarter.Apply(turned.Front())))
	}
}
