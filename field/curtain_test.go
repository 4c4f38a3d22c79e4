package field

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/field/electrode"
)

// Faraday: oxygen takes 0.2282 L per A h at 25 degC and 101,325 Pa (derived value).
func TestOxygenPerCharge(t *testing.T) {
	assert.InEpsilon(t, 0.2282e-3/3600, oxygen, 1e-3)
}

// Gas round the rod takes a few percent of the current, more at the top than at the tip:
// practical estimates put its share of the liquid at 2 to 15 % (from memory).
func TestGasRoundTheRodTakesALittle(t *testing.T) {
	p := boxProblem(t, 6e-3, 0.01)
	clear, err := Solve(context.Background(), p, Settings{})
	require.NoError(t, err)
	curtain := electrode.UsualCurtain(p.Anodes[0].Rod.Radius)
	p.Anodes[0].Gas = &curtain
	gassed, err := Solve(context.Background(), p, Settings{})
	require.NoError(t, err)
	less := 1 - gassed.Current/clear.Current
	t.Logf("%.2f %% less current", 100*less)
	assert.Greater(t, less, 0.0)
	assert.Less(t, less, 0.10)
	on := gassed.solver.upward(0)
	assert.Greater(t, gassed.solver.rods[on[len(on)-1]].gas, gassed.solver.rods[on[len(on)/3]].gas)
}
