package paper

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

// bentRod replaces the rod of the example by one whose foot points to the rear right, and says
// how it goes in.
func bentRod(t require.TestingT, tip, corner string) *Sheet {
	s := made(t, 1, "tip: [20, 5, 40], bare: [[0, 90]]", "tip: "+tip+", bend: {corner: "+corner+", radius: 30}, bare: [[0, 90]]")
	s.Stations[0].WayIn = [][]string{{"hold its shank square to the rim outside", "push in 90 mm, to the mark at 90 mm"}}
	return s
}

// The drawing at full size has every two points of the rod's axis as far apart as the rod has, in
// mm on the page; mirror and turn do not matter for a rod bent once.
func TestTheBendIsDrawnAtItsSize(t *testing.T) {
	for _, corner := range []string{"[0, 0, 60]", "[10, 20, 90]", "[-30, 0, 50]"} {
		a := &bentRod(t, "[-80, -60, 60]", corner).Stations[0].Anodes[0]
		d, err := drawBend(a, geometry.V(40, 150, 0))
		require.NoError(t, err)
		require.Len(t, d.Path, len(a.Path))
		for i := range a.Path {
			for k := range i {
				require.InDelta(t, 1000*a.Path[i].Dist(a.Path[k]), d.Path[i].Dist(d.Path[k]), 1e-6)
			}
		}
	}
}

// The foot at (-80, -60) of a plumb shank points to the rear right: past six by 36.9 degrees
// toward three, nearest to five. The page says so, how it is bent, and how it goes in.
func TestThePagesTellHowABentRodIsTurned(t *testing.T) {
	s := bentRod(t, "[-80, -60, 60]", "[0, 0, 60]")
	text := strings.Join(s.Words(), " ")
	for _, words := range []string{"Bent by 90 degrees", "faces 5 o'clock", "the front, seen from above", "a bent one about itself too", "rod, drawn straight",
		"round a former 50 mm across", "push in 90 mm, to the mark at 90 mm"} {
		assert.Contains(t, text, words)
	}
	assert.Equal(t, 5, s.Pages())
	straight := strings.Join(made(t, 1).Words(), " ")
	assert.NotContains(t, straight, "Bent by")
	assert.NotContains(t, straight, "about itself")
}

// Whatever its angle and its legs, no text of the bend's page runs over the paper's edge or into another.
func TestTextsOfTheBendStayApart(t *testing.T) {
	for _, style := range styles {
		for _, rod := range [][2]string{{"[-80, -60, 60]", "[0, 0, 60]"}, {"[-80, 0, 120]", "[0, 0, 60]"}, {"[-20, 0, 5]", "[0, 0, 60]"}, {"[-900, 0, 60]", "[0, 0, -500]"}} {
			s := bentRod(t, rod[0], rod[1])
			s.Style = style
			p := s.draw()
			for i, a := range p.written {
				assert.True(t, a.x >= margin-1 && a.x+a.w <= p.width-margin+1.5 && a.y >= margin-1 && a.y+a.h <= p.height-margin+6, "%v: %+v", rod, a)
				for _, b := range p.written[:i] {
					const touch = 0.7 // mm that the boxes of two lines may share
					over := a.page == b.page && a.x < b.x+b.w-touch && b.x < a.x+a.w-touch && a.y < b.y+b.h-touch && b.y < a.y+a.h-touch
					assert.False(t, over, "%v: %q at %.0f %.0f over %q at %.0f %.0f", rod, a.text, a.x, a.y, b.text, b.x, b.y)
				}
			}
		}
	}
}
