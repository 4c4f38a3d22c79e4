package bench

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/readings"
)

// rows reads a log as a person would write it.
func rows(t *testing.T, text string) []readings.Row {
	t.Helper()
	out, err := readings.Parse("log.txt", text)
	require.NoError(t, err)
	return out
}

func tried(t *testing.T, text string) *Trial {
	t.Helper()
	out, err := Try(logJob(t), []Station{logStation()}, rows(t, text))
	require.NoError(t, err)
	return out
}

func logJob(t *testing.T) *job.Job {
	return parsed(t, "bath: {conductivity: 0.6 S/m}", "supply: {voltage: 12 V, kind: bench, isolated: yes}", plainClip, made(nil))
}

// logStation takes about 4 A: (12 − 2.2) V over 2.49 ohm is 3.94 A.
func logStation() Station {
	s := fifteen(0.6)
	s.Amps = (12 - s.Dead) / s.Liquid
	s.Across = 12 - s.Dead
	return s
}

// Readings made from a known conductivity and crust give both back: without electrode laws
// the model is exactly what the fit takes.
func TestFitGivesBackWhatReadingsWereMadeFrom(t *testing.T) {
	j, s := logJob(t), logStation()
	j.Wall = job.Law{} // primary, so no volts go at the metal but the dead ones
	const kappa, crust = 0.47, 0.08
	var made []readings.Row
	charge := 0.0
	for k := range 12 {
		amps := 9.8 / (concentric/kappa + crust*charge)
		for range 40 { // the charge up to here holds the half of this reading
			total := charge
			if k > 0 {
				total = charge + (made[k-1].Amps+amps)/2*0.5
			}
			amps = 9.8 / (concentric/kappa + crust*total)
		}
		if k > 0 {
			charge += (made[k-1].Amps + amps) / 2 * 0.5
		}
		made = append(made, readings.Row{Line: k + 1, Time: 8*3600 + 1800*float64(k), Volts: 12, Amps: amps, Kelvin: math.NaN()})
	}
	got, err := Try(j, []Station{s}, made)
	require.NoError(t, err)
	assert.InEpsilon(t, kappa, got.Fit.Conductivity.Mid, 1e-6)
	assert.InEpsilon(t, crust, got.Fit.Crust, 1e-6)
	assert.InEpsilon(t, crust*charge, got.Fit.Now, 1e-6)
	assert.Less(t, got.Fit.Conductivity.Low, kappa)
	assert.Greater(t, got.Fit.Conductivity.High, kappa)
}

// A bath 10 K warmer conducts 23 % more; the fit is for 20 degC.
func TestFitIsCarriedTo20(t *testing.T) {
	j, s := logJob(t), logStation()
	j.Wall = job.Law{}
	amps := 9.8 / (concentric / (0.6 * 1.23))
	got, err := Try(j, []Station{s}, []readings.Row{{Line: 1, Volts: 12, Amps: amps, Kelvin: 303.15}})
	require.NoError(t, err)
	assert.InEpsilon(t, 0.6, got.Fit.Conductivity.Mid, 1e-9)
}

// By trapezia, by hand: 3.5 A for an hour, a row without amps bridged, then 2.5 A for two hours;
// the night of 9 h is a break.
func TestChargeIsSummed(t *testing.T) {
	got := tried(t, "18:00 11 4\n19:00 11 3\n20:00 11 -\n21:00 11 2\n6:00 11 4\n7:00 11 4")
	assert.InDelta(t, 3.5+2*2.5+4, got.Made[0].Charge, 1e-9)
	assert.Equal(t, []int{5}, got.Off())
	planned := 20 * (12 - 2.2) / (concentric / 0.6)
	assert.InDelta(t, planned, got.Made[0].Planned, 1e-9)
	assert.InDelta(t, (planned-12.5)/4*3600, got.Made[0].Left, 1e-6)
}

// What goes through a short or the wrong way loosens no rust: an hour of it, and the way there and
// back, is in no charge, and the bath is not fitted to it.
func TestShortsAndReversedLeadsCountForNothing(t *testing.T) {
	for _, row := range []string{"10:00 2 12", "10:00 -11 2.6", "10:00 11 -2.6", "10:00 11 150"} {
		got := tried(t, "8:00 11 4\n9:00 11 4\n"+row+"\n11:00 11 4\n12:00 11 4")
		assert.InDelta(t, 8, got.Made[0].Charge, 1e-9, row)
		assert.InEpsilon(t, tried(t, "8:00 11 4\n9:00 11 4").Fit.Conductivity.Mid, got.Fit.Conductivity.Mid, 0.05, row)
		assert.Empty(t, got.Off())
	}
	j := parsed(t, "bath: {conductivity: 0.6 S/m}", "supply: {voltage: 12 V, limit: 6 A, kind: bench, isolated: yes}", plainClip, made(nil))
	got, err := Try(j, []Station{logStation()}, rows(t, "8:00 11 4\n9:00 11 28"))
	require.NoError(t, err)
	assert.Contains(t, got.Findings[len(got.Findings)-1].Text, "more than this supply drives through a short, 6.0 A: is the row written right")
}

func TestStationsAreSummedApart(t *testing.T) {
	a, b := logStation(), logStation()
	a.Name, b.Name = "front", "rear"
	got, err := Try(logJob(t), []Station{a, b}, rows(t, "station: front\n8:00 11 4\n9:00 11 4\nstation: rear\n9:10 11 3\n10:10 11 3\nstation: 1\n11:00 11 4\n12:00 11 4"))
	require.NoError(t, err)
	assert.InDelta(t, 8, got.Made[0].Charge, 1e-9)
	assert.InDelta(t, 3, got.Made[1].Charge, 1e-9)
	_, err = Try(logJob(t), []Station{a, b}, rows(t, "station: left\n8:00 11 4"))
	assert.EqualError(t, err, `row 2: the plan has no station "left": it has ["front" "rear"]`)
}

// The plan's 78.7 A h at 3.9 A take 21 hours.
func TestThePlansChargeIsReached(t *testing.T) {
	text := ""
	for hour := range 24 {
		text += fmt.Sprintf("%d:00 11 3.9\n", hour)
	}
	got := tried(t, text)
	last := got.Findings[len(got.Findings)-1]
	assert.Equal(t, Reached, last.Sight)
	assert.InDelta(t, 23*3.9, got.Made[0].Charge, 1e-9)
	assert.Zero(t, got.Made[0].Left)
}

func TestWhatTheNumbersLookLike(t *testing.T) {
	const fresh = "8:00 11 3.9\n8:10 11 3.8\n" // about what the plan expects
	for text, want := range map[string][]Sight{
		fresh:                   {Expected},
		fresh + "9:00 11.4 2.7": {Expected, Crusted},
		fresh + "9:00 11.4 2.9": {Expected}, // 24 % gone: not yet
		fresh + "9:00 11.4 2.7\n9:20 11 3.8 - scrubbed\n10:30 11.4 2.6": {Expected, Crusted, Expected, Crusted},
		fresh + "9:00 11.4 2.7\n9:20 11 2.7 - scrubbed":                 {Expected, Crusted, LowBath},
		"8:00 11 7\n8:10 11 6.2":                                        {Stronger},
		"8:00 11 1.2\n8:10 11 1.1":                                      {Weaker},
		fresh + "9:00 -11 -3.8":                                         {Expected, Reversed},
		fresh + "9:00 0.4 30":                                           {Expected, Shorted},
		fresh + "9:00 0.4 3":                                            {Expected, Shorted},
		fresh + "9:00 11.9 0":                                           {Expected, DryJoint},
		fresh + "9:00 11 3.8 52":                                        {Expected, Warm},
		fresh + "9:00 11 3.8 61":                                        {Expected, Hot},
		fresh + "10:00 11 40\n11:00 11 40":                              {Expected, Shorted}, // and no charge of it, or the plan would be reached
	} {
		got := tried(t, text)
		var sights []Sight
		for _, f := range got.Findings {
			sights = append(sights, f.Sight)
			assert.NotEmpty(t, f.Text)
		}
		assert.Equal(t, want, sights, "%s", text)
	}
}

func TestReadingsThatSayNothingOfTheBath(t *testing.T) {
	assert.Zero(t, tried(t, "8:00 11 -\n9:00 - 3").Fit)
	assert.Zero(t, tried(t, "8:00 1.5 0.1").Fit, "less than goes at the metal")
	assert.Empty(t, tried(t, "8:00 11 -").Findings)
}
