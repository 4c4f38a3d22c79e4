package electrode

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestDeadVoltageCountsNoOverpotentialTwice(t *testing.T) {
	film, both := Film{Resistance: 0.02}, Series{Film{Resistance: 0.02}, DefaultWall()}
	for _, c := range []struct {
		name        string
		wall, anode Law
		want        float64
	}{
		{"primary and primary", Primary{}, Primary{}, 2.2},
		{"film and film", film, film, 2.2},
		{"film and primary", film, Series{Primary{}, film}, 2.2},
		{"kinetics and steel", DefaultWall(), Steel(), 1.43},
		{"film with kinetics, graphite", both, Graphite(), 1.43},
		{"kinetics and film: the rod's usual 0.49 V", DefaultWall(), film, 1.92},
		{"film and steel: the wall's usual 0.30 V", film, Steel(), 1.73},
	} {
		assert.InDelta(t, c.want, DeadVoltage(c.wall, c.anode), 1e-12, c.name)
	}
}

// The usual overpotentials are the default laws' own, at the usual current densities of
// 1 mA/cm² on the wall and 20 mA/cm² on the rod, and with the 1.43 V make the usual whole.
func TestUsualOverpotentialsAreThoseOfTheDefaultLaws(t *testing.T) {
	wall, _ := DefaultWall().Drop(10)
	anode, _ := Steel().Drop(200)
	assert.InDelta(t, usualWall, wall, 0.005)
	assert.InDelta(t, usualAnode, anode, 0.005)
	assert.InDelta(t, usualDead, reversible+phSplit+wall+anode, 0.05)
}
