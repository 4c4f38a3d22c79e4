package bench

import (
	"math"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath"
	"evenwall/field/bath/charger"
)

// Heat is what the current does to the temperature and the level.
type Heat struct {
	Power     bath.Range // into the bath, less what splitting water takes, W
	Rate      bath.Range // of warming at the start, K/s
	Steady    bath.Range // temperature that it tends to, K, in air as warm as the bath at the start
	Constant  float64    // time in which 63 % of the way is made, s
	ToCaution bath.Range // s until 50 degC: Low the soonest; +Inf never
	ToStop    bath.Range // s until 60 degC, likewise
	Water     bath.Range // lost in an hour, kg
}

// Heat returns the heat of a station.
func (s *Station) Heat(j *job.Job) Heat {
	amps := s.Settled(j).Amps
	l := s.circuit(j, bath.Range{Low: -deadError, High: deadError})
	power := bath.Range{
		Low:  powerAt(l, amps.Low, l.Dead.High, l.Bath.High),
		Mid:  powerAt(l, amps.Mid, l.Dead.Mid, l.Bath.Mid),
		High: powerAt(l, amps.High, l.Dead.Low, l.Bath.Low),
	}
	h := Heat{Power: power, Water: bath.WaterLost(amps.Mid*3600, j.Bath.Kelvin())}
	h.Water = bath.Range{Low: bath.WaterLost(amps.Low*3600, j.Bath.Kelvin()).Low, Mid: h.Water.Mid, High: bath.WaterLost(amps.High*3600, j.Bath.Kelvin()).High}
	mild, usual, worst := s.warming(j, power.Low, highest), s.warming(j, power.Mid, middle), s.warming(j, power.High, lowest)
	capacity := usual.Capacity
	h.Rate = power.Scale(1 / capacity)
	h.Steady = bath.Range{Low: mild.Steady(), Mid: usual.Steady(), High: worst.Steady()}
	h.Constant = usual.TimeConstant()
	h.ToCaution = bath.Range{Low: worst.TimeTo(bath.PaintCaution), Mid: usual.TimeTo(bath.PaintCaution), High: mild.TimeTo(bath.PaintCaution)}
	h.ToStop = bath.Range{Low: worst.TimeTo(bath.PaintStop), Mid: usual.TimeTo(bath.PaintStop), High: mild.TimeTo(bath.PaintStop)}
	return h
}

// powerAt returns the heat at a current, W: the mean of volts times amps over the bath, which of a
// rectified wave is more than the product of their means.
func powerAt(l charger.Loop, amps, dead, ohms float64) float64 {
	steady := bath.Heat((dead+ohms*amps)*amps, amps)
	if l.Source.Wave != charger.Rectified || l.Lamp != nil {
		return max(steady, 0)
	}
	series := l.Source.Resistance.Mid + l.Leads.Mid
	wave := charger.SineOf(dead + amps*(series+ohms))
	p := wave.Through(dead, series, ohms)
	if p.Mean == 0 {
		return 0
	}
	return max(bath.Heat(p.Power*amps/p.Mean, amps), 0)
}

func lowest(r bath.Range) float64  { return r.Low }
func middle(r bath.Range) float64  { return r.Mid }
func highest(r bath.Range) float64 { return r.High }

// warming returns the bath under a heat, W, its wall losing what loss picks of the range.
// The loss is taken at the temperature that it leads to.
func (s *Station) warming(j *job.Job, heat float64, loss func(bath.Range) float64) bath.Warming {
	w := bath.Warming{Heat: heat, Capacity: s.LiquidMass(j) * bath.SpecificHeat(s.share(j)), Area: s.Wetted, Start: j.Bath.Kelvin(), Air: j.Bath.Kelvin()}
	at := w.Start
	for range 20 {
		w.Loss = loss(bath.WallLoss(at))
		at = math.Min(w.Steady(), bath.Kelvin(100))
	}
	return w
}

// share returns the dry salt by mass of the liquid; 0 when the recipe is not known.
func (s *Station) share(j *job.Job) float64 {
	r, ok := RecipeOf(j, s.Volume)
	if !ok {
		return 0
	}
	return math.Min(r.Share.Mid, 0.05)
}

// LiquidMass returns what the liquid weighs, kg.
func (s *Station) LiquidMass(j *job.Job) float64 {
	r, ok := RecipeOf(j, s.Volume)
	if !ok {
		return s.Volume * bath.WaterDensity(j.Bath.Kelvin())
	}
	return s.Volume * bath.Density(r.Product.Salt(), r.Share.Mid, j.Bath.Kelvin())
}

// Mass returns what tank and liquid weigh together, kg: the wall's wetted area counts for all of its
// sheet, 0.7 to 1.2 mm thick when the job does not say.
func (s *Station) Mass(j *job.Job) bath.Range {
	const steel = 7850 // kg/m³
	sheet := bath.Range{Low: 0.7e-3, Mid: 1.0e-3, High: 1.2e-3}
	if t := j.Materials.Sheet; t > 0 {
		sheet = bath.Exactly(t)
	}
	return sheet.Scale(steel * s.Wetted).Plus(bath.Exactly(s.LiquidMass(j)))
}
