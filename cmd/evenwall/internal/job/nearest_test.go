package job

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two letters that changed places are nearer than two other letters.
func TestNearestTakesLettersInAnotherOrderFirst(t *testing.T) {
	assert.Equal(t, "length", nearest("lenght", []string{"height", "length", "width"}))
	assert.Equal(t, "height", nearest("hieght", []string{"height", "length", "width"}))
	assert.Equal(t, "width", nearest("widht", []string{"height", "length", "width"}))
}

// What no soda bath has, and no supply that may be touched.
func TestUnlikelyFiguresAreWarnedOf(t *testing.T) {
	for text, says := range map[string]string{"conductivity: 20 S/m": "strongest soda solution", "conductivity: 0.03 S/m": "tap water"} {
		j, err := Parse("pump.yaml", []byte(shortest+"bath: {"+text+"}\nsupply: {voltage: 48 V}\n"))
		require.NoError(t, err, text)
		all := strings.Join(j.Warnings(), "\n")
		assert.Contains(t, all, says)
		assert.Contains(t, all, "more than the 30 V that may be touched")
	}
	salted, err := Parse("pump.yaml", []byte(shortest+"bath: {conductivity: 6 mS/cm, soda: {form: table salt, dose: 4 g/L}}\n"))
	require.NoError(t, err)
	assert.Contains(t, strings.Join(salted.Warnings(), "\n"), "chlorine")
	j, err := Parse("pump.yaml", []byte(shortest+"bath: {conductivity: 6 mS/cm}\nsupply: {voltage: 12 V}\n"))
	require.NoError(t, err)
	assert.Empty(t, j.Warnings())
}
