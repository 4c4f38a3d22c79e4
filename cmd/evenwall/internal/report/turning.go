package report

import "fmt"

// Turning is what the attitudes that a search went through wet and reach.
type Turning struct {
	WallM2       float64    `json:"wall_m2"`        // all wall, wet and dry
	OnlyTurnedM2 float64    `json:"only_turned_m2"` // dry in the first attitude, wetted in another
	NeverWetM2   float64    `json:"never_wet_m2"`
	Attitudes    []TurnedTo `json:"attitudes"` // the one that is begun in first
}

// TurnedTo is one attitude.
type TurnedTo struct {
	PitchDeg    float64 `json:"pitch_deg"`
	RollDeg     float64 `json:"roll_deg"`
	WettedM2    float64 `json:"wetted_m2"`
	ReachableM2 float64 `json:"reachable_m2"` // by single rods within the limits
	Used        bool    `json:"used"`         // by the layout
}

// StationStance is how the tank stands and is filled for a station of a schedule that turns it.
type StationStance struct {
	PitchDeg float64 `json:"pitch_deg"`
	RollDeg  float64 `json:"roll_deg"`
	LevelMM  float64 `json:"level_mm"` // plumb above the lowest inside point
	LiquidL  float64 `json:"liquid_l"` // rods and sleeves taken off
	AddL     float64 `json:"add_l"`    // to the station before; below 0: drained
	Props    string  `json:"props"`
}

// AttitudeWords names an attitude.
func AttitudeWords(pitch, roll float64) string {
	return fmt.Sprintf("pitch %s, roll %s degrees", figure(pitch), figure(roll))
}

// turning says which attitudes were tried, and how the stations stand.
func (t *table) turning(r *Result) {
	o := r.Turning
	if o == nil {
		return
	}
	t.heading("attitudes in turn")
	for _, a := range o.Attitudes {
		used := ""
		if a.Used {
			used = "; used"
		}
		t.row(AttitudeWords(a.PitchDeg, a.RollDeg), "wets %s m2, single rods reach %s m2%s", figure(a.WettedM2), figure(a.ReachableM2), used)
	}
	t.row("only turned", "%s m2, %s of all wall, is dry in the first of these and wet in another", figure(o.OnlyTurnedM2), percent(o.OnlyTurnedM2/o.WallM2))
	t.row("in none of them", "%s m2 of wall is wet", figure(o.NeverWetM2))
	for i := range r.Stations {
		if s := r.Stations[i].Stance; s != nil {
			t.row(r.Stations[i].Name, "%s: %s; level %s, %s L%s", AttitudeWords(s.PitchDeg, s.RollDeg), s.Props, mm1(s.LevelMM), figure(s.LiquidL), s.addWords())
		}
	}
}

// addWords says what is filled in or drained before the station.
func (s *StationStance) addWords() string {
	switch {
	case s.AddL >= 0.05:
		return fmt.Sprintf(": fill in %s L first, of the same bath", figure(s.AddL))
	case s.AddL <= -0.05:
		return fmt.Sprintf(": drain %s L first", figure(-s.AddL))
	}
	return ""
}
