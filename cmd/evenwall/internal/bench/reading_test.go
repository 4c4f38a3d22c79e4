package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath"
)

// concentric is the resistance times conductivity of a 12 mm rod, 0.3 m long, in a shell of
// 200 mm: 1.13936 ohm at 1.31 S/m by the exact formula. Such a tank holds 9.4 L, so it
// stands for one of 15 L and 0.4 m² with some room to spare.
const concentric = 1.13936 * 1.31 // 1/m

// fifteen is a tank of about 15 L and 0.4 m² with such a rod in a bath of conductivity kappa, S/m.
func fifteen(kappa float64) Station {
	rod := job.Anode{}
	rod.Name, rod.Radius = "rod", 0.006
	rod.Bare = append(rod.Bare, spanTo(0.3))
	return Station{Anodes: []job.Anode{rod}, RodAmps: []float64{4}, Amps: 4, Liquid: concentric / kappa, Across: 4 * concentric / kappa,
		Dead: 2.2, Wetted: 0.40, Volume: 0.015, Planned: 20 * 3600}
}

// The worked whole: a plain 12 V charger on a tank of about 15 L and 0.4 m² gives a few
// amps (common practice, no source), by hand (15 − 2.2) V / (2.53 + 0.525) ohm = 4.2 A.
func TestAPlainChargerGivesAFewAmps(t *testing.T) {
	j := parsed(t, "bath: {soda: {form: anhydrous, dose: 4.13 g/L}}", plainSupply, plainClip, made(nil))
	s := fifteen(j.Bath.Conductivity)
	got := s.Settled(j)
	assert.InEpsilon(t, 0.59, j.Bath.Conductivity, 0.03, "0.41 % by the table of spoons")
	assert.InDelta(t, (15-2.2)/(concentric/j.Bath.Conductivity+3.15/6), got.Amps.Mid, 1e-9)
	assert.Greater(t, got.Amps.Low, 2.0)
	assert.Less(t, got.Amps.High, 7.0)
	assert.Equal(t, 3.0, s.Overload(j), "half of what the label says, over hours")
	assert.InDelta(t, 15/0.525, s.OffAt(j).Short, 0.1, "a dead short takes what the charger's resistance lets through")
}

// The recipe of one tablespoon to the gallon spans 1.6 to 5.9 mS/cm and so a factor of three in
// the amps of a supply without much resistance of its own.
func TestASpoonHidesAFactorInTheAmps(t *testing.T) {
	j := parsed(t, "bath: {soda: {dose: 1 tbsp/gal}}", "supply: {voltage: 12 V, kind: bench, isolated: yes}", plainClip, made(nil))
	s := fifteen(j.Bath.Conductivity)
	got := s.Settled(j).Amps
	assert.Greater(t, got.High/got.Low, 3.0)
	r, ok := RecipeOf(j, 0.015)
	assert.True(t, ok)
	assert.False(t, r.Said)
	assert.Len(t, r.Forms, 3)
	assert.InEpsilon(t, 286.14/105.99, r.Forms[2].Mass/r.Forms[0].Mass, 1e-9, "decahydrate to anhydrous by molar mass")
}

// 4 g/L in 15 L: 60 g, at 8.4 to 15.7 g a level tablespoon 3.8 to 7.1 of them.
func TestRecipeByFormSaid(t *testing.T) {
	j := parsed(t, plainBath)
	r, ok := RecipeOf(j, 0.015)
	assert.True(t, ok)
	assert.Equal(t, bath.Exactly(0.060), r.Mass)
	assert.InDelta(t, 3.8, r.Spoons.Low, 0.05)
	assert.InDelta(t, 7.1, r.Spoons.High, 0.05)
	_, ok = RecipeOf(parsed(t, "bath: {conductivity: 0.6 S/m}"), 0.015)
	assert.False(t, ok)
	// The conductivity of that recipe, measured, is what that recipe makes.
	measured := parsed(t, "bath: {conductivity: 0.6 S/m}")
	measured.Bath.Conductivity = j.Bath.Conductivity
	forms := FormsFor(measured, 0.015)
	assert.InEpsilon(t, 0.060, forms[0].Mass, 1e-6)
	assert.InEpsilon(t, 0.060*286.14/105.99, forms[2].Mass, 1e-6, "decahydrate by molar mass")
	measured.Bath.Conductivity = 50
	assert.Nil(t, FormsFor(measured, 0.015))
}

func TestALimitHoldsTheCurrent(t *testing.T) {
	j := parsed(t, "bath: {conductivity: 0.6 S/m}", "supply: {voltage: 12 V, limit: 2 A, kind: bench, isolated: yes}", plainClip, made(nil))
	s := fifteen(0.6)
	got := s.Settled(j)
	assert.Equal(t, 2.0, got.Amps.Mid)
	assert.InDelta(t, 2.2+2*concentric/0.6, got.Across.Mid, 1e-9)
	assert.InDelta(t, 2.1, s.OffAt(j).AmpsOver, 1e-9, "no more than the limit and a little")
}

// Whatever the job: bands in order, a fresh rod takes no less than a settled one and a
// crusted one less, and no reading lies beyond what the supply has.
func TestReadingsKeepTheirOrder(t *testing.T) {
	j := parsed(t, "bath: {conductivity: 0.6 S/m}", plainSupply, plainClip, made(nil))
	rapid.Check(t, func(t *rapid.T) {
		s := Station{Liquid: rapid.Float64Range(0.2, 20).Draw(t, "liquid"), Dead: rapid.Float64Range(0, 3).Draw(t, "dead"),
			Amps: rapid.Float64Range(0.1, 10).Draw(t, "amps")}
		s.Across = s.Amps * (s.Liquid + rapid.Float64Range(0, 3).Draw(t, "laws"))
		first, settled, crusted := s.First(j), s.Settled(j), s.Crusted(j)
		for _, r := range []Readings{first, settled, crusted} {
			for _, b := range []bath.Range{r.Amps, r.Across, r.Clips} {
				if !(b.Low <= b.Mid && b.Mid <= b.High) || b.Low < 0 {
					t.Fatalf("%+v of %+v", b, r)
				}
			}
			if r.Clips.High > 17+1e-9 || r.Across.High > r.Clips.High+1e-9 {
				t.Fatalf("more volts than the charger has: %+v", r)
			}
		}
		if first.Amps.Mid < settled.Amps.Mid || settled.Amps.Mid < crusted.Amps.Mid || crusted.Across.Mid < settled.Across.Mid-1e-9 {
			t.Fatalf("%+v\n%+v\n%+v", first, settled, crusted)
		}
	})
}

func TestLeadsAreHeldAgainstTheCurrent(t *testing.T) {
	thin := parsed(t, "bath: {conductivity: 3 S/m}", "supply: {label: 12 V 20 A, kind: plain, isolated: yes, leads: {size: 0.5 mm2, length: 2 m}}", plainClip, made(nil))
	s := fifteen(3)
	assert.False(t, s.LeadsCarry(thin))
	thick := parsed(t, "bath: {conductivity: 3 S/m}", "supply: {label: 12 V 20 A, kind: plain, isolated: yes, leads: {size: 6 mm2, length: 2 m}}", plainClip, made(nil))
	assert.True(t, s.LeadsCarry(thick))
}

// 20 h in sessions of 4 h, the default: five; the band is a factor of three either way.
func TestHoursAndSessions(t *testing.T) {
	s := fifteen(0.6)
	assert.Equal(t, 5, s.Sessions(Session(parsed(t))))
	assert.Equal(t, 7, s.Sessions(Session(parsed(t, "aim: {session: 3 h}"))))
	assert.InDelta(t, 60, s.Hours().High, 1e-9)
	assert.InDelta(t, 80, s.Charge(), 1e-9, "4 A for 20 h")
	s.Planned, s.Finish = 0, 7200
	assert.InDelta(t, 2, s.Hours().Mid, 1e-12, "by the aim when the job does not say")
}
