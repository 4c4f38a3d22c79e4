package paper

import (
	"fmt"
	"math"

	"evenwall/cmd/evenwall/internal/units"
)

// leastPoured is how much liquid is worth filling in or draining, m³.
const leastPoured = 5e-5

// turns reports whether the tank is turned before a station.
func (w *writer) turns(i int) bool {
	return i > 0 && i < len(w.Stations) && w.Stations[i].Attitude != w.Stations[i-1].Attitude
}

// onPage returns the station that the page after that of station i begins with: one that the tank is
// turned for has a page of its own.
func (w *writer) onPage(i int) int {
	end := i + 1
	for !w.turns(i) && end < min(i+perPage, len(w.Stations)) && !w.turns(end) {
		end++
	}
	return end
}

// turn says what is done before a station in another attitude than the one before it, and how the
// tank is filled then.
func (w *writer) turn(i int) {
	if !w.turns(i) {
		return
	}
	s := &w.Stations[i]
	more := s.Volume - w.Stations[i-1].Volume
	pour := "nothing to fill in or drain."
	switch {
	case more >= leastPoured:
		pour = fmt.Sprintf("then fill in %s of the same bath.", w.u.Text(units.Volume, more))
	case more <= -leastPoured:
		pour = fmt.Sprintf("first drain %s.", w.u.Text(units.Volume, math.Abs(more)))
	}
	w.tick("Turn the tank:", fmt.Sprintf("off at the mains, rod out; %s The level stands %s above the lowest inside point then, %s of liquid: look for air under the steel and for drips anew.",
		pour, w.u.Text(units.Length, s.Height), w.u.Text(units.Volume, s.Volume)))
}
