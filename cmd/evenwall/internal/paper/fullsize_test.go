package paper

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
)

// found returns the first text on the last pages that holds the words.
func found(t *testing.T, written []writing, from int, words string) writing {
	t.Helper()
	for _, w := range written {
		if w.page >= from && strings.Contains(w.text, words) {
			return w
		}
	}
	t.Fatalf("%q is not on pages from %d", words, from)
	return writing{}
}

// A rod of 400 mm, more than a page is high, with marks far enough apart to stand at their
// places: on the paper they are as far from each other as on the rod, on A4 and on letter.
func TestFullSizeIsFullSize(t *testing.T) {
	rod := job.Anode{Through: "none", Rod: geometry.Rod{Name: "rod", Radius: 0.005, Sleeve: 0.007,
		Path: geometry.Straight(geometry.V(0, 0, 0), geometry.V(0, 0, 0.4)), Bare: []geometry.Span{{From: 0.015, To: 0.095}},
		Spacers: []geometry.Spacer{{At: 0.15, Radius: 0.014, Thick: 0.003}, {At: 0.36, Radius: 0.014, Thick: 0.003}},
		Collar:  geometry.Collar{At: 0.3, Radius: 0.045}}}
	for _, size := range []Size{A4, Letter} {
		s := made(t, 1)
		s.Style = Style{Size: size}
		s.Stations[0].Anodes = []job.Anode{rod}
		drawn := s.draw()
		from := found(t, drawn.written, 1, "Full size: rod").page
		y := func(words string) float64 { return found(t, drawn.written, from, words).y }
		assert.InDelta(t, 80, y("15 mm  plastic below")-y("95 mm  plastic above"), 1e-6)
		assert.InDelta(t, 55, y("95 mm  plastic above")-y("150 mm  spacer, 28 mm across"), 1e-6)
		assert.InDelta(t, 60, y("300 mm  collar's underside")-y("360 mm  spacer"), 1e-6)
		assert.NotEmpty(t, found(t, drawn.written, from, "goes on from").text)
		assert.NotEmpty(t, found(t, drawn.written, from, "Print at 100 %").text)
		require.Equal(t, from+1, drawn.pdf.PageCount(), "beside a collar of 90 mm there is no room for a second strip")
		s.Stations[0].Anodes[0].Collar = geometry.Collar{}
		require.Equal(t, from, s.Pages(), "two strips on one page")
	}
}

// What stands on a rod is drawn whole as far as there is room for the words beside it, and words
// never on it: of a page of 184 mm a collar of 120 mm leaves 64.
func TestWordsStandBesideWideFittings(t *testing.T) {
	for _, across := range []float64{0.030, 0.060, 0.120} {
		s := made(t, 1)
		s.Stations[0].Anodes[0].Collar = geometry.Collar{At: 0.1, Radius: across / 2}
		drawn := s.draw()
		from := found(t, drawn.written, 1, "Full size: ").page
		words := found(t, drawn.written, from, "collar's underside")
		assert.Greater(t, words.x, margin+1000*across, "%g", across)
		assert.Less(t, words.x+words.w, drawn.width-margin+1e-6, "%g", across)
	}
}

// Two stations that hang one rod alike share its drawing; another sleeve is another drawing.
func TestARodIsDrawnOnceForAllItsStations(t *testing.T) {
	s := made(t, 2)
	s.Stations[1].Anodes = []job.Anode{s.Stations[0].Anodes[0]}
	once := strings.Count(strings.Join(s.Words(), "\n"), "Full size:")
	s.Stations[1].Anodes[0].Sleeve += 0.001
	twice := strings.Count(strings.Join(s.Words(), "\n"), "Full size:")
	assert.Equal(t, []int{1, 2}, []int{once, twice})
}
