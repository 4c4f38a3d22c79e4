package report

import "fmt"

// Bench is the plan at the bench. Bands are [low, middle, high].
type Bench struct {
	SodaG            *Band          `json:"soda_g,omitempty"` // of product as bought
	SodaForm         string         `json:"soda_form,omitempty"`
	ConductivityMSCM Band           `json:"conductivity_ms_cm"`
	TemperatureC     float64        `json:"temperature_c"`
	MassKG           Band           `json:"mass_kg"` // tank and liquid
	Stations         []BenchStation `json:"stations"`
	AirBatteryM3H    float64        `json:"air_battery_form_m3_h"`     // lower bound
	AirPercentM3H    float64        `json:"air_one_percent_form_m3_h"` // lower bound
	SparkDistanceM   float64        `json:"spark_distance_m"`          // at least
	SteadyC          Band           `json:"steady_temperature_c"`      // that the bath tends to
	HoursTo50C       *float64       `json:"hours_to_50_c,omitempty"`   // at the soonest; left out: never
	HoursTo60C       *float64       `json:"hours_to_60_c,omitempty"`   // at the soonest; left out: never
	HeatW            Band           `json:"heat_w"`
	WaterLostGH      Band           `json:"water_lost_g_h"`
}

// BenchStation is one station at the bench.
type BenchStation struct {
	Name       string  `json:"name"`
	Hours      Band    `json:"hours"`
	Sessions   int     `json:"sessions"`
	FirstA     Band    `json:"first_minutes_a"`
	SettledA   Band    `json:"settled_a"`
	SettledV   Band    `json:"settled_rod_to_tank_v"`
	ClipsV     Band    `json:"settled_clips_v"`
	ScrubA     Band    `json:"scrub_the_rod_a"`
	OffOverA   float64 `json:"switch_off_over_a"`
	OffUnderV  float64 `json:"switch_off_under_rod_to_tank_v"` // with current flowing
	LimitHolds bool    `json:"-"`                              // the supply never gives so many amps: only the volts tell
	HydrogenLH Band    `json:"hydrogen_l_h"`
	OxygenLH   Band    `json:"oxygen_l_h"`
	Held       []Held  `json:"gas_held,omitempty"`
	RodLostG   float64 `json:"rod_lost_g"`        // all rods, at most
	RodLeft    float64 `json:"rod_left_fraction"` // of the worst rod, at least
	RodsInTurn int     `json:"rods_in_turn"`      // of the worst rod, at most, each changed at three quarters of its thickness
}

// Held is gas that a place may hold.
type Held struct {
	Place          string  `json:"place"`
	Litres         float64 `json:"volume_l"`
	KJ             float64 `json:"energy_kj"`          // when it burns to water
	SoonestMinutes float64 `json:"full_after_minutes"` // if all the gas of the bath went there
}

// Band is a low, a middle and a high value.
type Band [3]float64

// text writes a band with the middle first.
func (b Band) text() string {
	return fmt.Sprintf("%s (%s to %s)", figure(b[1]), figure(b[0]), figure(b[2]))
}

func (t *table) bench(b *Bench) {
	if b == nil {
		return
	}
	t.heading("at the bench")
	if b.SodaG != nil {
		t.row("weigh out", "%s g of %s", b.SodaG.text(), b.SodaForm)
	}
	t.row("bath", "%s mS/cm at %s degC; tank and bath %s kg", b.ConductivityMSCM.text(), figure(b.TemperatureC), b.MassKG.text())
	for i := range b.Stations {
		s := &b.Stations[i]
		if s.Name != "" {
			t.row(s.Name, "%s h, in %s", s.Hours.text(), plural(s.Sessions, "session"))
		} else {
			t.row("time", "%s h, in %s", s.Hours.text(), plural(s.Sessions, "session"))
		}
		t.row("", "first minutes %s A, settled %s A", s.FirstA.text(), s.SettledA.text())
		t.row("", "settled %s V from rod to tank, %s V at the clips", s.SettledV.text(), s.ClipsV.text())
		if s.LimitHolds {
			t.row("", "scrub the rod at %s A, switch off under %s V from rod to tank with current flowing (the supply's limit holds the amps)", s.ScrubA.text(), figure(s.OffUnderV))
		} else {
			t.row("", "scrub the rod at %s A, switch off over %s A, or under %s V from rod to tank", s.ScrubA.text(), figure(s.OffOverA), figure(s.OffUnderV))
		}
		t.row("", "hydrogen %s L/h, oxygen %s L/h", s.HydrogenLH.text(), s.OxygenLH.text())
		for _, h := range s.Held {
			t.row("", "%s may hold %s L of gas, %s kJ, full after %s min at the soonest", h.Place, figure(h.Litres), figure(h.KJ), figure(h.SoonestMinutes))
		}
		if s.RodsInTurn > 1 {
			t.row("", "rod loses %s g at most: change it at three quarters of its thickness, up to %d rods in all", figure(s.RodLostG), s.RodsInTurn)
		} else {
			t.row("", "rod loses %s g at most, %s of it is left at least", figure(s.RodLostG), percent(s.RodLeft))
		}
	}
	t.row("fresh air", "%s m3/h by the battery-room form, %s m3/h by the 1 %% form: lower bounds", figure(b.AirBatteryM3H), figure(b.AirPercentM3H))
	t.row("flame and spark", "%s m away at least", figure(b.SparkDistanceM))
	t.row("heat", "%s W, tending to %s degC, water lost %s g/h", b.HeatW.text(), b.SteadyC.text(), b.WaterLostGH.text())
}
