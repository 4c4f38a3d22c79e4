package job

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/bath"
	"evenwall/field/bath/charger"
)

// withKeys is a job with further lines at its top level.
func withKeys(lines string) string {
	return "job: 1\ntank: {shape: {box: {length: 300, width: 200, height: 150}}}\n" + lines
}

func parsed(t *testing.T, lines string) *Job {
	t.Helper()
	j, err := Parse("x.yaml", []byte(withKeys(lines)))
	require.NoError(t, err)
	back, err := Parse("x.yaml", j.YAML("."))
	require.NoError(t, err, "%s", j.YAML("."))
	assert.Equal(t, j, back, "written and read back")
	return j
}

func TestBenchKeysArriveInSIAndGoThroughWriting(t *testing.T) {
	j := parsed(t, `bath: {soda: {form: decahydrate, dose: 11 g/L}, temperature: 15 degC, headspace: plastic neck, first_reading: {volts: 9.8 V, amps: 3.2 A}}
supply:
  {label: 12 V 6 A, kind: plain, switch: 2 A, leads: {size: 14 AWG, length: 2 m, clips: 3}, lamp: {volts: 12 V, watts: 55 W, count: 2}, isolated: yes, fuse: 10 A}
materials: {vessel: tank, place: bench, tank: terne, coating: none, seams: soldered, held: spray, emptied: yes, flushed: no,
  pinholes: no, rod: steel, sheet: 0.9, fittings: [brass, rubber], loose: ["a chain", strainer]}
negative_at: drain bung thread
riser: {height: 120, bore: 2 in}
aim: {session: 6 h, fallen: 30 %}
`)
	assert.Equal(t, Materials{Vessel: PlainTank, Place: OnBench, Tank: Terne, Coating: Bare, Seams: Soldered, Held: Spray, Emptied: Yes, Flushed: No,
		Pinholes: No, Rod: MildSteel, Sheet: 0.0009, Fittings: []Metal{Brass, Rubber}, Loose: []string{"a chain", "strainer"}}, j.Materials)
	assert.Equal(t, Riser{0.120, 0.0508}, j.Riser)
	assert.Equal(t, "drain bung thread", j.NegativeAt)
	assert.Equal(t, 6*hour, j.Aim.Session)
	assert.Equal(t, 0.30, j.Aim.Fallen)
	assert.Equal(t, Reading{9.8, 3.2}, j.Bath.First)
	assert.Equal(t, "plastic neck", j.Bath.Headspace)
	area, err := charger.GaugeArea(14)
	require.NoError(t, err)
	assert.Equal(t, charger.Lead{Area: area, Length: 2, Clips: 3}, j.Supply.Box.Leads)
	assert.Equal(t, charger.Lamp{Volts: 12, Watts: 55, Count: 2}, j.Supply.Box.Lamp)
}

// 11 g/L of decahydrate is 4.07 g/L of dry soda: 0.41 % and, by the table's power law
// between 0.3 and 0.5 %, 5.8 mS/cm at 20 degC, less 2.3 % for each kelvin below.
func TestRecipeGivesTheConductivity(t *testing.T) {
	j := parsed(t, "bath: {soda: {form: decahydrate, dose: 11 g/L}, temperature: 15 degC}\n")
	assert.True(t, j.Bath.FromRecipe)
	assert.InEpsilon(t, 0.58*(1-5*0.023), j.Bath.Conductivity, 0.03)
	assert.True(t, j.Bath.Range().Contains(j.Bath.Conductivity))
}

// One level tablespoon to the gallon of a form that is not said: 1.6 to 5.9 mS/cm, from
// the table of spoons and the conductivity table.
func TestSpoonOfAFormUnsaidSpansAFactorOfFour(t *testing.T) {
	j := parsed(t, "bath: {soda: {dose: 1 tbsp/gal}}\n")
	r := j.Bath.Range()
	assert.InEpsilon(t, 0.16*(1-0.08), r.Low, 0.06)
	assert.InEpsilon(t, 0.59*(1+0.08)+bath.TapWater().High, r.High, 0.06)
	assert.Len(t, j.Warnings(), 2)
}

func TestMeasuredConductivityWins(t *testing.T) {
	j := parsed(t, "bath: {soda: {form: anhydrous, dose: 4 g/L}, conductivity: 6 mS/cm}\n")
	assert.Equal(t, 0.6, j.Bath.Conductivity)
	assert.True(t, j.Bath.IsMeasured())
	assert.Contains(t, j.Warnings()[0], "both given")
}

func TestMetersThatShowPPMOrCarryTo25(t *testing.T) {
	// 3000 ppm at 0.5 ppm per uS/cm is 6000 uS/cm.
	assert.InDelta(t, 0.6, parsed(t, "bath: {conductivity: 3000 ppm, ppm_factor: 0.5}\n").Bath.Conductivity, 1e-12)
	// Without the factor: 0.5 to 0.7, so 4286 to 6000 uS/cm.
	r := parsed(t, "bath: {conductivity: 3000 ppm}\n").Bath.Range()
	assert.InDelta(t, 0.42857, r.Low, 1e-4)
	assert.InDelta(t, 0.6, r.High, 1e-12)
	// 6 mS/cm carried to 25 degC is 10 % less at 20 degC, at 2 % for each kelvin.
	assert.InDelta(t, 0.54, parsed(t, "bath: {conductivity: 6 mS/cm, compensated: yes, temperature: 20 degC}\n").Bath.Conductivity, 1e-9)
}

// Plain chargers by their label: 15 V without load, and (15.75 - 12.6) V over the rating.
func TestSupplyByItsLabel(t *testing.T) {
	s := parsed(t, "supply: {label: 12V 6A, kind: plain}\n").Supply
	assert.InDelta(t, 15, s.Voltage, 1e-12)
	assert.InDelta(t, 3.15/6, s.Resistance, 1e-12)
	s = parsed(t, "supply: {label: 12 V 6 A, kind: plain, switch: 2 A}\n").Supply
	assert.InDelta(t, 3.15/2, s.Resistance, 1e-12)
	s = parsed(t, "supply: {label: 12 V 3 A, kind: bench}\n").Supply
	assert.Equal(t, []float64{12, 0, 3}, []float64{s.Voltage, s.Resistance, s.Limit})
	// 14.4 V with nothing, 12.4 V at 4 A: half an ohm.
	s = parsed(t, "supply: {kind: plain, clips: [{volts: 14.4 V, amps: 0 A}, {volts: 12.4 V, amps: 4 A}]}\n").Supply
	assert.InDelta(t, 14.4, s.Voltage, 1e-12)
	assert.InDelta(t, 0.5, s.Resistance, 1e-12)
	// Leads come on top: 2 x 2 m of 2.5 mm2 is 27.6 mohm, and 20 mohm a clip.
	s = parsed(t, "supply: {voltage: 12 V, resistance: 0.3 ohm, leads: {size: 2.5 mm2, length: 2 m}}\n").Supply
	assert.InDelta(t, 0.3+0.0276+0.04, s.Resistance, 2e-4)
	assert.Equal(t, 12.0, s.Voltage)
}

func TestBenchKeysThatAreWrong(t *testing.T) {
	for lines, want := range map[string]string{
		"supply: {label: 12 V 6 A, kind: smart}\n":                             "a smart charger waits for a battery",
		"supply: {label: six amps}\n":                                          "is not read as a label: give volts and amps, such as 12 V 6 A",
		"supply: {label: 9 V 6 A}\n":                                           "a charger of 9 V is not known",
		"supply: {kind: plain, clips: [{volts: 12 V, amps: 3 A}]}\n":           "give a second at another current",
		"supply: {voltage: 12 V, leads: {size: 50 AWG, length: 2 m}}\n":        "wire gauge 50 is outside 0 to 40",
		"bath: {soda: {form: washing powder, dose: 4 g/L}}\n":                  `"washing powder" is none of anhydrous`,
		"bath: {soda: {form: anhydrous, dose: 4}}\n":                           "4 has no unit: a dose is given in g/L",
		"bath: {soda: {form: lye, dose: 1 tbsp/gal}}\n":                        "no spoon measure for lye: weigh it",
		"bath: {soda: {form: anhydrous, dose: 400 g/L}}\n":                     "is covered: use less",
		"bath: {soda: {form: anhydrous}}\n":                                    "bath.soda.dose: is missing",
		"bath: {conductivity: 6 mS/cm, ppm_factor: 0.5}\n":                     "goes with a conductivity in ppm",
		"bath: {conductivity: 3000 ppm, ppm_factor: 3}\n":                      "ppm factor is 3 ppm per uS/cm",
		"materials: {tank: tin}\n":                                             `"tin" is none of steel`,
		"materials: {fittings: brass}\n":                                       "give a list of",
		"riser: {height: 100}\n":                                               "riser.bore: is missing",
		"aim: {fallen: 120 %}\n":                                               "leaves no current",
		"bath: {soda: {form: anhydrous, dose: 4 g/L}, temperature: 95 degC}\n": "0 to 80 degC is covered",
	} {
		_, err := Parse("x.yaml", []byte(withKeys(lines)))
		assert.ErrorContains(t, err, want, lines)
	}
}

// What must not go into the bath is read as such: the sheet refuses it.
func TestWhatMustNotGoIn(t *testing.T) {
	for text, want := range map[string]Additive{"table salt": TableSalt, "acid": Acid, "vinegar": Acid, "bleach": Bleach} {
		j := parsed(t, "bath: {soda: {form: "+text+", dose: 4 g/L}, conductivity: 6 mS/cm}\n")
		assert.Equal(t, want, j.Bath.Soda.Bad, text)
	}
}
