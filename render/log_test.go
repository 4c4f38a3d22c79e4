package render

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/render/internal/golden"
)

// readings are made up: an evening, a break, and a morning at another station.
func logScene() LogScene {
	return LogScene{
		Title: "Pump house engine tank",
		Curves: []LogCurve{
			{Name: "amps", Zero: true, Bands: []LogBand{{21, 25, 2.5, 3.3, "to the front"}, {32, 34, 2, 2.8, "to the rear"}},
				Points: []LogPoint{{21, 3.6, true}, {22, 2.9, false}, {23, 2.2, false}, {25, 2.8, false}, {32, 2.6, true}, {34, 2.3, false}}},
			{Name: "volts, rod to tank", Points: []LogPoint{{21, 11.0, true}, {25, 11.3, false}, {32, -11.1, true}}},
			{Name: "temperature of the bath, °C"},
		},
		Marks: []LogMark{{21, 1}, {23, 2}},
		Notes: []string{"21:00: 3.6 A, as expected", "23:00: 2.2 A: the rod is crusted"},
	}
}

func TestLogLooksAsItDid(t *testing.T) {
	c, err := drawLog(logScene(), Settings{Width: 600})
	require.NoError(t, err)
	golden.Compare(t, filepath.Join("testdata", "log.png"), c.image, golden.Tolerance{Channel: 24, Share: 0.001})
}

func TestLogWritesItsCurvesMarksAndNotes(t *testing.T) {
	c, err := drawLog(logScene(), Settings{})
	require.NoError(t, err)
	var texts []string
	for _, w := range c.texts {
		texts = append(texts, w.text)
		assert.True(t, w.box.x0 >= 0 && w.box.x1 <= sheetWidth, "%q at %v", w.text, w.box)
	}
	for _, want := range []string{"amps", "volts, rod to tank", "to the front", "1 21:00: 3.6 A, as expected", "h since midnight before the first reading", "22", "32"} {
		assert.Contains(t, texts, want)
	}
	assert.NotContains(t, texts, "temperature of the bath, °C", "a curve without a point is left out")
}

// One reading, or several alike, have a span all the same.
func TestLogOfAlmostNothing(t *testing.T) {
	for _, points := range [][]LogPoint{{{8, 3, true}}, {{8, 0, true}, {8, 0, false}}, {{8, -3, true}, {9, -3, false}}} {
		_, err := Log(LogScene{Curves: []LogCurve{{Name: "amps", Points: points}}}, Settings{Width: 300})
		assert.NoError(t, err)
	}
	_, err := Log(LogScene{Curves: []LogCurve{{Name: "amps"}}}, Settings{})
	assert.EqualError(t, err, "no reading holds volts, amps or a temperature: nothing to draw")
}

func TestTicksHaveTheDecimalsOfTheirStep(t *testing.T) {
	assert.Equal(t, "11.2", ticked(11.2, 0.2))
	assert.Equal(t, "11.20", ticked(11.2, 0.05))
	assert.Equal(t, "20", ticked(20, 5))
}
