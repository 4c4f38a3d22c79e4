package field

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/shape"
)

// parted is a box of 200 x 100 x 100 mm whose front 80 mm a sheet closes off.
func parted(t *testing.T) *Patches {
	t.Helper()
	box := shape.Box{Length: 0.2, Width: 0.1, Height: 0.1}.Mesh(0.01)
	plate := shape.Plate{Centre: geometry.V(0.02, 0, 0.05), Normal: geometry.V(1, 0, 0), Width: 0.1, Height: 0.1}
	s := &Steel{Mesh: box}
	s.Mesh.Append(plate.Mesh(0.01))
	for i := range s.Mesh.Faces {
		s.Inner, s.Outer = append(s.Inner, true), append(s.Outer, i >= len(box.Faces))
	}
	return NewPatches(s, 0.008)
}

// By hand: the box has 0.1 m² of wall and the sheet 0.01 m² a side. In front of it are 80 mm:
// 2 ends of 0.01 m² and 4 sides of 80 x 100 mm, 0.052 m² with the sheet's face; behind it 120 mm,
// 0.068 m².
func TestASheetPartsThePiecesOnItsTwoSides(t *testing.T) {
	p := parted(t)
	pieces := p.Pieces(func(int) bool { return true })
	require.Len(t, pieces, 2)
	// Facets of 10 mm that the sheet's plane does not part lie on one side of it, by their middle.
	assert.InEpsilon(t, 0.068, p.AreaOf(pieces[0]), 0.05)
	assert.InEpsilon(t, 0.052, p.AreaOf(pieces[1]), 0.05)
	assert.InEpsilon(t, 0.120, p.AreaOf(pieces[0])+p.AreaOf(pieces[1]), 1e-9)
	sheet := 0
	for _, i := range pieces[1] {
		assert.Greater(t, p.All[i].Centre.X, 0.015)
		if p.OnSheet(i) {
			sheet++
			assert.InDelta(t, -1, p.All[i].Normal.X, 1e-9, "out of the liquid in front of it, into the sheet")
		}
	}
	assert.Greater(t, sheet, 100, "0.01 m² in patches of 6.8 mm")
}

// A stripe that runs askew over the floor and up a side is one piece, though its patches meet
// at corners only; two stripes are two.
func TestPatchesThatMeetAtACornerAreOnePiece(t *testing.T) {
	p := parted(t)
	stripe := func(at float64) func(i int) bool {
		return func(i int) bool {
			c := p.All[i].Centre
			along := c.Y
			if c.Y > 0.049 {
				along += c.Z
			}
			return (c.Z < 0.001 || c.Y > 0.049) && c.X < 0.01 && c.X-0.5*along > at && c.X-0.5*along < at+0.007
		}
	}
	assert.Len(t, p.Pieces(stripe(-0.06)), 1)
	assert.Len(t, p.Pieces(func(i int) bool { return stripe(-0.06)(i) || stripe(-0.02)(i) }), 2)
}
