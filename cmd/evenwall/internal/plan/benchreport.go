package plan

import (
	"math"

	"evenwall/cmd/evenwall/internal/bench"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field/bath"
)

// bandOf returns a range as result.json has it, in a unit that is factor to one of SI.
func bandOf(r bath.Range, factor float64) report.Band {
	return report.Band{r.Low * factor, r.Mid * factor, r.High * factor}
}

// celsius returns a range of temperatures in degC.
func celsius(r bath.Range) report.Band {
	return report.Band{bath.Celsius(r.Low), bath.Celsius(r.Mid), bath.Celsius(r.High)}
}

// report gathers the figures of the bench; heat, air and mass are those of the first station.
func (w *work) report() *report.Bench {
	j, first := w.job, &w.stations[0]
	gas, heat := first.Gas(j), first.Heat(j)
	out := &report.Bench{
		ConductivityMSCM: bandOf(j.Bath.Range(), 10), TemperatureC: bath.Celsius(j.Bath.Kelvin()),
		MassKG: bandOf(first.Mass(j), 1), AirBatteryM3H: gas.Air.Battery * 3600, AirPercentM3H: gas.Air.Percent * 3600,
		SparkDistanceM: gas.Spark, SteadyC: celsius(heat.Steady), HeatW: bandOf(heat.Power, 1), WaterLostGH: bandOf(heat.Water, 1000),
		HoursTo50C: hoursTo(heat.ToCaution.Low), HoursTo60C: hoursTo(heat.ToStop.Low),
	}
	if r, ok := bench.RecipeOf(j, first.Volume); ok {
		grams := bandOf(r.Mass, 1000)
		out.SodaG, out.SodaForm = &grams, "washing soda of a form that is not said, as monohydrate in the middle"
		if r.Said {
			out.SodaForm = r.Product.String()
		}
	}
	for i := range w.stations {
		out.Stations = append(out.Stations, w.atStation(&w.stations[i]))
	}
	return out
}

// hoursTo returns a time in hours, nil for never.
func hoursTo(seconds float64) *float64 {
	if math.IsInf(seconds, 1) {
		return nil
	}
	h := seconds / 3600
	return &h
}

func (w *work) atStation(s *bench.Station) report.BenchStation {
	j := w.job
	settled, gas, off := s.Settled(j), s.Gas(j), s.OffAt(j)
	out := report.BenchStation{
		Name: s.Name, Hours: bandOf(s.Hours(), 1), Sessions: s.Sessions(bench.Session(j)),
		FirstA: bandOf(s.First(j).Amps, 1), SettledA: bandOf(settled.Amps, 1), SettledV: bandOf(settled.Across, 1),
		ClipsV: bandOf(settled.Clips, 1), ScrubA: bandOf(s.Crusted(j).Amps, 1), OffOverA: off.AmpsOver, OffUnderV: off.VoltsUnder,
		LimitHolds: j.Supply.Limit > 0 && off.AmpsOver >= j.Supply.Limit,
		HydrogenLH: bandOf(gas.Hydrogen, 1), OxygenLH: bandOf(gas.Oxygen, 1), RodLeft: 1,
	}
	for _, h := range gas.Held {
		out.Held = append(out.Held, report.Held{Place: h.Place, Litres: litres(h.Volume), KJ: h.Energy.High / 1000, SoonestMinutes: h.Soonest / 60})
	}
	for _, r := range s.Wear(j) {
		out.RodLostG += 1000 * r.Lost
		out.RodLeft = min(out.RodLeft, r.Left)
		out.RodsInTurn = max(out.RodsInTurn, r.Rods)
	}
	return out
}
