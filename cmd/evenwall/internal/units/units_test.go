package units

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"evenwall/field/bath"
)

// By definition: 25.4 mm an inch, 3.785411784 L a gallon, 453.59237 g a pound.
func TestQuantitiesInBothSystems(t *testing.T) {
	assert.Equal(t, "95 mm", Metric.Text(Length, 0.095))
	assert.Equal(t, "3.74 in", US.Text(Length, 0.095))
	assert.Equal(t, "3.86 gal", US.Text(Volume, 14.6e-3))
	assert.Equal(t, "122 °F", US.Text(Temperature, 323.15))
	assert.Equal(t, "50 °C", Metric.Text(Temperature, 323.15))
	assert.Equal(t, "2.0 oz", US.Text(Grams, 0.0567))
	assert.Equal(t, "3.1 (2.5 to 3.9) A", US.Range(Amps, bath.Range{Low: 2.5, Mid: 3.1, High: 3.9}))
	assert.Equal(t, "0.002 L", Metric.Text(Volume, 2e-6))
	// 1.34 oz to the US gallon is 10 g/L: the recipe for a 1 % bath.
	assert.Equal(t, "1.34 oz/gal", US.Text(Dose, 10))
	// 1 m³/h is 0.5886 cubic feet a minute: 1 cfm = 1.699 m³/h.
	assert.Equal(t, "0.59 cfm", US.Text(Flow, 1.0/3600))
}

func TestSummaryIsTurned(t *testing.T) {
	for metric, us := range map[string]string{
		"liquid               14.6 L, level 195.0 mm above": "liquid               3.86 gal, level 7.68 in above",
		"wetted wall          0.412 m2":                     "wetted wall          4.43 ft2",
		"tip at [150, 35, 90] mm, top at [1, 2, 3] mm":      "tip at [150, 35, 90] mm, top at [1, 2, 3] mm",
		"bare 0 to 95 mm from the tip":                      "bare 0 to 3.74 in from the tip",
		"at 12 V and 3 A, 6.1 A/m2 mean, 150 A h/m2":        "at 12 V and 3 A, 0.567 A/ft2 mean, 13.9 A h/ft2",
		"20 degC and 60 g of soda at 4 g/L":                 "68 degF and 2.12 oz of soda at 0.534 oz/gal",
		"0.6 S/m stays":                                     "0.6 S/m stays",
		"tank and bath 18.2 (17.3 to 18.9) kg":              "tank and bath 40.1 (38.1 to 41.7) lb",
		"tending to 27.9 (25.4 to 30.7) degC":               "tending to 82.2 (77.7 to 87.3) degF",
		"flame and spark 1.00 m away at least":              "flame and spark 3.28 ft away at least",
		"0.5 m3/h of air":                                   "0.294 cfm of air",
		"    - {name: \"filler\", centre: [150, 35, 195]}":  "    - {name: \"filler\", centre: [150, 35, 195]}",
	} {
		assert.Equal(t, us, US.Summary(metric))
		assert.Equal(t, metric, Metric.Summary(metric))
	}
}

func TestParse(t *testing.T) {
	s, err := Parse("us")
	assert.NoError(t, err)
	assert.Equal(t, US, s)
	_, err = Parse("imperial")
	assert.EqualError(t, err, `"imperial" is no system of units: give metric or us`)
}
