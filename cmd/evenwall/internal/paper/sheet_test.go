package paper

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"evenwall/cmd/evenwall/internal/bench"
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/units"
	"evenwall/geometry"
)

const example = `job: 1
title: Pump house engine tank
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  openings: [{name: filler, centre: [0, 0, 150], axis: [0, 0, 1], diameter: 60}]
bath: {soda: {form: anhydrous, dose: 4 g/L}}
supply: {label: 12 V 6 A, kind: plain, isolated: yes, fuse: 10 A}
negative_at: welded foot
riser: {height: 120, bore: 50}
materials: {vessel: tank, place: bench, tank: steel, coating: none, seams: welded, held: water, emptied: yes, flushed: yes, rod: steel}
anodes: [{diameter: 10, top: [0, 0, 200], tip: [20, 5, 40], bare: [[0, 90]], sleeve: 14}]
`

// made returns a sheet with so many stations, of a box drawn by hand.
func made(t require.TestingT, stations int, changes ...string) *Sheet {
	text := strings.NewReplacer(changes...).Replace(example)
	j, err := job.Parse("x.yaml", []byte(text))
	require.NoError(t, err)
	s := &Sheet{Job: j, Outline: box()}
	for k := range stations {
		one := bench.Station{Name: fmt.Sprintf("place %d", k+1), Anodes: j.Anodes, RodAmps: []float64{2}, Planned: 20 * 3600, Reached: 0.8,
			Amps: 2, Liquid: 4, Across: 8.2, Dead: 1.9, Wetted: 0.3, Volume: 0.009, Headspace: 0.0001, Pockets: []float64{0.00002}}
		if stations == 1 {
			one.Name = ""
		}
		s.Stations = append(s.Stations, one)
	}
	return s
}

// turned is made with every second station in another attitude.
func turned(t require.TestingT, stations int, changes ...string) *Sheet {
	s := made(t, stations, changes...)
	for k := 1; k < stations; k += 2 {
		s.Stations[k].Attitude = job.Attitude{Pitch: 0.1, Roll: -0.05}
	}
	return s
}

func box() Outline {
	o := Outline{Bounds: geometry.BoxOf(geometry.V(-0.15, -0.1, 0), geometry.V(0.15, 0.1, 0.15)), Surface: geometry.PlaneThrough(geometry.V(0, 0, 0.15), geometry.V(0, 0, 1)), Height: 0.15,
		Cut: geometry.V(0, 0, 0.15), Openings: []Opening{{"filler", geometry.V(0, 0, 0.15), geometry.V(0, 0, 1), 0.06, geometry.Vec{}}}}
	ring := func(corners ...geometry.Vec) (out [][2]geometry.Vec) {
		for i := range corners {
			out = append(out, [2]geometry.Vec{corners[i], corners[(i+1)%len(corners)]})
		}
		return out
	}
	o.Along = ring(geometry.V(-0.15, 0, 0), geometry.V(0.15, 0, 0), geometry.V(0.15, 0, 0.15), geometry.V(-0.15, 0, 0.15))
	o.Across = ring(geometry.V(0, -0.1, 0), geometry.V(0, 0.1, 0), geometry.V(0, 0.1, 0.15), geometry.V(0, -0.1, 0.15))
	return o
}

var styles = []Style{{A4, units.Metric}, {A4, units.US}, {Letter, units.Metric}, {Letter, units.US}}

// The last page is the rod at its full size, drawn once for stations that hang one alike.
func TestOnePageForTwoStationsBesideTheFirstTwo(t *testing.T) {
	for _, style := range styles {
		for stations, pages := range map[int]int{1: 4, 2: 4, 3: 5, 4: 5, 5: 6} {
			s := made(t, stations)
			s.Style = style
			assert.Equal(t, pages, s.Pages(), "%d stations, %+v", stations, style)
		}
	}
}

// The first thing on the sheet is the polarity, and 11 pt is the smallest type.
func TestPolarityComesFirstAndEverythingIsLargeEnough(t *testing.T) {
	p := made(t, 2).draw()
	var first string
	top := 1e9
	for _, w := range p.written {
		assert.GreaterOrEqual(t, w.size, 11-1e-9, w.text)
		if w.page == 1 && w.y < top {
			first, top = w.text, w.y
		}
	}
	assert.Equal(t, "Tank NEGATIVE −     Rod POSITIVE +", first)
}

// No text runs over the paper's edge or into another.
func TestTextsStayApartAndOnThePaper(t *testing.T) {
	fullest := []string{"held: water", "held: fuel", "tank: steel,", "tank: terne, pinholes: yes,", "seams: welded", "seams: soldered, fittings: [brass, zinc], loose: [chain, strainer]", "form: anhydrous, ", "",
		"kind: plain", "kind: plain, leads: {size: 0.5 mm2, length: 2 m}, lamp: {volts: 12 V, watts: 55 W}"}
	for _, style := range styles {
		for _, s := range []*Sheet{made(t, 1), made(t, 2), made(t, 3), made(t, 2, fullest...), turned(t, 2), turned(t, 4, fullest...)} {
			s.Style = style
			p := s.draw()
			for i, a := range p.written {
				assert.True(t, a.x >= margin-1 && a.x+a.w <= p.width-margin+1.5 && a.y >= margin-1 && a.y+a.h <= p.height-margin+6, "%+v: %+v", style, a)
				for _, b := range p.written[:i] {
					const touch = 0.7 // mm that the boxes of two lines may share
					over := a.page == b.page && a.x < b.x+b.w-touch && b.x < a.x+a.w-touch && a.y < b.y+b.h-touch && b.y < a.y+a.h-touch
					assert.False(t, over, "%+v: %q at %.0f %.0f over %q at %.0f %.0f", style, a.text, a.x, a.y, b.text, b.x, b.y)
				}
			}
		}
	}
}

// neverSaid are the words that promise what no computation can.
var neverSaid = regexp.MustCompile(`(?i)\b(safe|unsafe|clean|done|guaranteed|harmless|no risk|gas-free|sufficient ventilation|leave overnight)\b`)

func TestThePagesPromiseNothing(t *testing.T) {
	for _, changes := range [][]string{{}, {"held: water", "held: fuel", "tank: steel,", "tank: galvanised, pinholes: yes,"}, {"form: anhydrous", "form: lye"},
		{"form: anhydrous", "form: baking soda"}, {"form: anhydrous", "form: trisodium phosphate"}, {"form: anhydrous, ", ""}} {
		text := strings.Join(made(t, 2, changes...).Words(), " ")
		assert.Empty(t, neverSaid.FindString(text))
		assert.Greater(t, len(text), 3000)
	}
}

func TestThePagesSayWhatTheyMust(t *testing.T) {
	text := strings.Join(made(t, 1).Words(), " ")
	for _, want := range []string{
		"Reversed leads eat the tank", "The ohmmeter must show open", "A wet reading misleads", "A day with plain water", "Rust may be all that seals a pinhole",
		"Weigh out 36 g of washing soda, anhydrous,", "goggles and gloves", "on bright metal: welded foot", "Never on the filler's lip", "fuse of 10 A beside the positive",
		"Above the tank and to one side", "in a tray", "Filled it weighs", "riser on the filler, 120 mm high, 50 mm bore", "Mask the paint", "children and pets",
		"lower bounds", "No flame or spark within 1.0 m", "SWITCH OFF AT THE MAINS", "from rod to tank with current flowing: a short", "the leads are reversed",
		"flammable from the first minute", "open or closed", "the rod is crusted", "a dry joint", "top up with plain water", "The soda is not used up",
		"of hydrogen with", "into the bath", "Water lost:", "Loses at most 42 g: change it", "“Turned black”", "“Loosened: wash out and look”",
		"Off at the mains, wait ten minutes,", "Flush to the brim", "then drain", "No vacuum, heat gun, flame or grinder", "then an oil film:", "local rules",
		"20 h with the current on (6.7 to 60 h)", "5 sessions of 4 h, attended", "scrub at 75 %", "90 mm plastic above", "Reaches 80 % of the wetted wall.",
	} {
		assert.Contains(t, strings.Join(strings.Fields(text), " "), want)
	}
	fuel := strings.Join(made(t, 1, "held: water", "held: fuel").Words(), " ")
	assert.Contains(t, fuel, "This tank held fuel. Local rules and a licensed person come before anything on this sheet")
	us := made(t, 1)
	us.Style.Units = units.US
	text = strings.Join(us.Words(), " ")
	assert.NotRegexp(t, `\d (mm|kg|g|L|L/h|°C|m³/h)\b`, text)
	assert.Contains(t, text, "1.3 oz of washing soda")
	assert.Contains(t, text, "140 °F")
}

func TestTheSameSheetGivesTheSameBytes(t *testing.T) {
	a, err := made(t, 3).PDF()
	require.NoError(t, err)
	b, err := made(t, 3).PDF()
	require.NoError(t, err)
	assert.True(t, bytes.Equal(a, b))
	assert.True(t, bytes.HasPrefix(a, []byte("%PDF-")))
}

// Whatever a person calls the tank and the clip's place, the pages are drawn.
func TestAnyTextIsDrawn(t *testing.T) {
	texts := rapid.String()
	for i := range 12 {
		s := made(t, 1)
		s.Job.Title, s.Job.NegativeAt = texts.Example(2*i), texts.Example(2*i+1)
		_, err := s.PDF()
		require.NoError(t, err, "%q %q", s.Job.Title, s.Job.NegativeAt)
	}
	s := made(t, 1)
	s.Job.Title, s.Job.NegativeAt = "pump \U0001F6E2 house", strings.Repeat("wide", 100)+"\U00011000\xff"
	_, err := s.PDF()
	require.NoError(t, err)
}

func TestParseSize(t *testing.T) {
	s, err := ParseSize("letter")
	require.NoError(t, err)
	assert.Equal(t, Letter, s)
	_, err = ParseSize("A3")
	assert.EqualError(t, err, `"A3" is no size of paper: give a4 or letter`)
}

// What the layout noted of wall that no layout reaches stands below the last station; a long list
// has a page of its own.
func TestWallThatNoLayoutReachesIsOnThePages(t *testing.T) {
	plain := made(t, 1)
	note := "412 cm2: bottom, behind the plate; would take: a rod through the sender, now plugged: reaches 90 % of it."
	noted := made(t, 1)
	noted.Job.Unreached = []string{note}
	assert.Equal(t, plain.Pages(), noted.Pages())
	words := strings.Join(noted.Words(), " ")
	assert.Contains(t, words, "wall that no layout reaches")
	assert.Contains(t, words, "a rod through the sender")
	for range 40 {
		noted.Job.Unreached = append(noted.Job.Unreached, note)
	}
	assert.Greater(t, noted.Pages(), plain.Pages())
	assert.NotContains(t, strings.Join(plain.Words(), " "), "no layout reaches")
}

// A station in another attitude says what is filled in or drained before it: by hand 9 L less 8.5 L, and back.
func TestTurningTheTankSaysWhatIsPoured(t *testing.T) {
	s := turned(t, 3) // the second stands otherwise
	s.Stations[1].Volume, s.Stations[1].Height = 0.0085, 0.14
	words := strings.Join(s.Words(), " ")
	assert.Equal(t, 2, strings.Count(words, "Turn the tank:"))
	assert.Contains(t, words, "first drain 0.50 L.")
	assert.Contains(t, words, "then fill in 0.50 L of the same bath.")
	assert.Contains(t, words, "140 mm above the lowest inside point")
	assert.NotContains(t, strings.Join(made(t, 1).Words(), " "), "Turn the tank:")
}
