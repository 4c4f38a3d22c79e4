package report

import (
	"fmt"
	"strings"
)

// AirPocket is a part of the inside below the level that the rising liquid does not reach,
// and where gas gathers.
type AirPocket struct {
	VolumeL float64 `json:"volume_l"`
	AreaM2  float64 `json:"area_m2"` // wall that stays dry
	TopMM   Point   `json:"top_mm"`
	Cause   string  `json:"cause"` // trapped, sealed or unreached
	Gas     *Gas    `json:"gas,omitempty"`
}

// Gas is what gathers in a pocket at the computed current, once it is full of liquid.
type Gas struct {
	CurrentA float64  `json:"current_a"`    // of the wall whose hydrogen rises into it
	OxygenA  float64  `json:"rod_a"`        // of the rods whose oxygen does
	FullH    *float64 `json:"full_after_h"` // until it is full; nil: never
	EnergyKJ float64  `json:"energy_kj"`    // full of two parts hydrogen to one oxygen, burnt to water
}

// Stances compares ways of propping the tank, each filled to the brim.
type Stances struct {
	Now   Stance  `json:"now"`
	Best  Stance  `json:"best"`
	Props string  `json:"props"` // blocks that give the best, in words
	Room  RoomDeg `json:"room_deg"`

	DegreeLoss float64 `json:"lost_fraction_at_one_degree"` // of the best's wetted wall, leaning the worst way
}

// Stance is one way of propping.
type Stance struct {
	PitchDeg  float64 `json:"pitch_deg"`
	RollDeg   float64 `json:"roll_deg"`
	WettedM2  float64 `json:"wetted_area_m2"`        // trapped air taken off
	BlindM2   float64 `json:"near_level_ceiling_m2"` // of it
	TrappedL  float64 `json:"trapped_air_l"`
	CapacityL float64 `json:"capacity_l"` // trapped air not taken off
}

// RoomDeg is how far the tank may lean from the best stance, each way by itself, degrees.
type RoomDeg struct {
	FrontDown float64 `json:"front_down"`
	FrontUp   float64 `json:"front_up"`
	LeftUp    float64 `json:"left_up"`
	LeftDown  float64 `json:"left_down"`
}

// air says where air stays and where gas gathers.
func (t *table) air(tank *Tank) {
	if len(tank.AirPockets) == 0 {
		t.row("trapped air", "none found")
	}
	for _, p := range tank.AirPockets {
		t.row("trapped air", "%s L would stay in, %s m2 of wall dry, top at %s", figure(p.VolumeL), figure(p.AreaM2), p.TopMM.text())
		if g := p.Gas; g != nil {
			t.row("", "%s", g.text())
		}
	}
	for _, seam := range tank.Seams {
		t.row("seam", "%s: a crevice that current hardly gets into, and one that may leak: look there", seam)
	}
	if tank.BlindM2 > 0.005*tank.WettedAreaM2 {
		t.row("ceilings near level", "%s m2 of the wetted wall: may be blinded by gas", figure(tank.BlindM2))
	}
}

func (g *Gas) text() string {
	if g.FullH == nil {
		return fmt.Sprintf("let out, no gas rises back into it; full of gas it would hold %s kJ", figure(g.EnergyKJ))
	}
	return fmt.Sprintf("let out, it is full of gas again after %s, by %s A of wall and %s A of rod below it: %s kJ",
		span(*g.FullH), figure(g.CurrentA), figure(g.OxygenA), figure(g.EnergyKJ))
}

// span writes a time given in hours.
func span(hours float64) string {
	switch {
	case hours < 1:
		return figure(60*hours) + " min"
	case hours > 72:
		return figure(hours/24) + " days"
	}
	return figure(hours) + " h"
}

// stances says how the tank is best propped, as far as wall and gas are concerned.
func (t *table) stances(s *Stances) {
	if s == nil {
		return
	}
	t.heading("ways of propping, filled to the brim")
	t.row("as the job has it", "%s", s.Now.text())
	if s.Best == s.Now {
		t.row("no better found", "within 30 degrees either way")
	} else {
		t.row("least dry or blinded", "%s", s.Best.text())
		t.row("", "attitude: {pitch: %.1f, roll: %.1f}; %s", s.Best.PitchDeg, s.Best.RollDeg, s.Props)
	}
	t.row("room to lean", "front down %.0f, up %.0f, left up %.0f, down %.0f degrees, until a hundredth of that is dry",
		s.Room.FrontDown, s.Room.FrontUp, s.Room.LeftUp, s.Room.LeftDown)
	if s.DegreeLoss >= 0.0005 {
		t.row("", "a degree the worst way leaves %s of it dry: a spirit level and wedges are worth it", percent(s.DegreeLoss))
	}
}

func (s Stance) text() string {
	words := []string{fmt.Sprintf("pitch %.1f, roll %.1f degrees: %s m2 wetted", s.PitchDeg, s.RollDeg, figure(s.WettedM2))}
	if s.BlindM2 > 0.005*s.WettedM2 {
		words = append(words, fmt.Sprintf("%s m2 of it ceilings near level", figure(s.BlindM2)))
	}
	if s.TrappedL >= 0.005 {
		words = append(words, fmt.Sprintf("%s L of air trapped", figure(s.TrappedL)))
	}
	return strings.Join(words, ", ")
}
