package report

// Within is how much of the reachable wall has its charge in the time that the aim gives.
type Within struct {
	Hours   float64 `json:"hours"`
	Reached float64 `json:"reached_fraction"`
}

// Spared is what wall gets that the aim wants spared; a limit that is not stated is 0 and left out.
type Spared struct {
	Name       string  `json:"name"`
	AreaMM2    float64 `json:"area_mm2"`
	MostAM2    float64 `json:"most_a_m2"`    // on any patch of it at any station
	ChargeAHM2 float64 `json:"charge_ah_m2"` // the most that any patch of it gets in the hours of all stations
	LimitAM2   float64 `json:"limit_a_m2,omitempty"`
	LimitAHM2  float64 `json:"limit_ah_m2,omitempty"`
}

// Checks holds the wall against the limits that are stated.
func (s *Spared) Checks() []Check {
	var out []Check
	if s.LimitAM2 > 0 {
		out = append(out, Check{"most on " + s.Name, s.MostAM2, s.LimitAM2, "A/m2", s.MostAM2 <= s.LimitAM2})
	}
	if s.LimitAHM2 > 0 {
		out = append(out, Check{"charge on " + s.Name, s.ChargeAHM2, s.LimitAHM2, "A h/m2", s.ChargeAHM2 <= s.LimitAHM2})
	}
	return out
}

// wanted says how wall was counted, what charge flows where that was to be little, and what
// wall gets that was to be spared.
func (t *table) wanted(r *Result) {
	if r.ChargeAH != nil {
		t.row("charge in all", "%s A h, the least that was found", figure(*r.ChargeAH))
	}
	if r.Weights != "" {
		t.row("counted", "%s", r.Weights)
	}
	for _, s := range r.Spared {
		t.row("spared: "+s.Name, "at most %s A/m2, in all %s A h/m2, on %s cm2 of wall", figure(s.MostAM2), figure(s.ChargeAHM2), figure(s.AreaMM2/100))
	}
}
