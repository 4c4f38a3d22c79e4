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
		Spacers: []geometry.Spacer{{At: 0.15, Radius: 0.02, Thick: 0.003}, {At: 0.36, Radius: 0.02, Thick: 0.003}},
		Collar:  geometry.Collar{At: 0.3, Radius: 0.045}}}
	for _, size := range []Size{A4, Letter} {
		s := made(t, 1)
		s.Style = Style{Size: size}
		s.Stations[0].Anodes = []job.Anode{rod}
		drawn := s.draw()
		from := found(t, drawn.written, 1, "Full size: rod").page
		y := func(words string) float64 { return found(t, drawn.written, from, words).y }
		assert.InDelta(t, 80, y("15 mm  plastic below")-y("95 mm  plastic above"), 1e-6)
		assert.InDelta(t, 55, y("95 mm  plastic above")-y("150 mm  spacer, 40 mm across"), 1e-6)
		assert.InDelta(t, 60, y("300 mm  collar's underside")-y("360 mm  spacer"), 1e-6)
		assert.NotEmpty(t, found(t, drawn.written, from, "goes on from").text)
		assert.NotEmpty(t, found(t, drawn.written, from, "Print at 100 %").text)
		require.Equal(t, from, drawn.pdf.PageCount(), "two strips on one page")
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
