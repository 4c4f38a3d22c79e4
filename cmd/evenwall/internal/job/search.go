package job

import "slices"

// Search is what the search for a layout may do.
type Search struct {
	Clearance  float64   // least bare metal to steel, m; default 25 mm
	Rods       []float64 // diameters in the drawer, m; default 8, 10 and 12 mm
	Count      int       // rods at once, at most; default 1
	Stretches  int       // bare stretches on a rod, at most, 1 or 2; default 1
	Bent       bool      // rods bent once are tried too
	BendRadius float64   // of the axis of one, m; 0: three diameters of the rod
	Flexible   bool      // flexible anodes that lie on spacers are tried too
	LeastBend  float64   // least radius that the axis of one takes, m; 0: six diameters of it
	Stations   int       // positions in turn, at most; default 1
	Tolerance  Tolerance // of the hand; default none
	Drift      Drift     // of the bath
	Robust     bool      // the best is the one whose worst case within Tolerance is the best

	Attitudes []Attitude // that the tank may be turned to between positions; nil: its own only
}

// Tolerance is how far a rod may hang from where it is meant to: all of it at once.
type Tolerance struct {
	Position float64 // any way at the rim, m
	Tilt     float64 // any way about the point at the rim, rad
	Depth    float64 // along the rod, either way, m
}

// IsZero reports whether nothing was said of the hand.
func (t Tolerance) IsZero() bool { return t == Tolerance{} }

// Drift is how far the bath may be from what the job says. The defaults are common practice,
// no source.
type Drift struct {
	Level        float64 // of the liquid, m either way; default 5 mm
	Conductivity float64 // as a share either way, 0 to 1; default 20 %
}

// mostTilt is beyond what any hand is off, rad.
const mostTilt = 45 * degree

func readTolerance(v value) (Tolerance, Drift) {
	f := v.fields()
	t := Tolerance{
		Position: f.get("position").quantity(length, notNegative),
		Tilt:     f.get("tilt").quantity(angle, notNegative),
		Depth:    f.get("depth").quantity(length, notNegative),
	}
	if t.Tilt > mostTilt {
		f.get("tilt").faultf("%s degrees is no slip of the hand: give 45 or less", angle.format(t.Tilt))
	}
	d := defaultSearch().Drift
	d.Level = f.get("level").quantityOr(d.Level, length, notNegative)
	d.Conductivity = f.get("conductivity").quantityOr(d.Conductivity, share, notNegative)
	if d.Conductivity >= 1 {
		f.get("conductivity").faultf("%s leaves no bath that conducts: give less than 100 %%, such as 20 %%", share.format(d.Conductivity))
	}
	f.finish()
	return t, d
}

func defaultSearch() Search {
	return Search{Clearance: 0.025, Rods: []float64{0.008, 0.010, 0.012}, Count: 1, Stretches: 1, Stations: 1,
		Drift: Drift{Level: 0.005, Conductivity: 0.20}}
}

// readKind reads whether rods of a kind are tried besides straight ones, and the radius that belongs to
// them.
func readKind(f *fields, kind, radius, rods string) (tried bool, r float64) {
	tried = choice(f.get(kind), answers) == Yes
	v := f.get(radius)
	r = v.quantity(length, positive)
	if v.given() && !tried {
		v.faultf("belongs to %s: give %s: yes too", rods, kind)
	}
	return tried, r
}

func readSearch(v value) Search {
	f := v.fields()
	s := defaultSearch()
	s.Clearance = f.get("clearance").quantityOr(s.Clearance, length, positive)
	if rods := f.get("rods"); rods.given() {
		s.Rods = nil
		for _, entry := range rods.some("diameters, such as [8, 10, 12]") {
			s.Rods = append(s.Rods, entry.quantity(length, positive))
		}
	}
	if count := f.get("count"); count.given() {
		s.Count = count.count(1)
	}
	if stretches := f.get("stretches"); stretches.given() {
		s.Stretches = stretches.count(1)
		if s.Stretches > 2 {
			stretches.faultf("%d bare stretches are more than the search can place on a rod: give 1 or 2", s.Stretches)
		}
	}
	s.Bent, s.BendRadius = readKind(f, "bent", "bend_radius", "bent rods")
	s.Flexible, s.LeastBend = readKind(f, "flexible", "least_bend", "flexible anodes")
	if stations := f.get("stations"); stations.given() {
		s.Stations = stations.count(1)
	}
	s.Attitudes = readAttitudes(f.get("attitudes"))
	s.Tolerance, s.Drift = readTolerance(f.get("tolerance"))
	if robust := f.get("robust"); robust.given() {
		s.Robust = choice(robust, answers) == Yes
		if s.Robust && s.Tolerance.IsZero() {
			robust.faultf("true needs the tolerance of the hand: give search.tolerance too, such as {position: 10, tilt: 3, depth: 5}")
		}
	}
	if s.Robust && len(s.Attitudes) > 1 {
		f.get("attitudes").faultf("with robust: not supported yet: leave out one of the two")
	}
	f.finish()
	return s
}

// MostAttitudes is how many attitudes a search goes through.
const MostAttitudes = 8

// readAttitudes reads the attitudes to try.
func readAttitudes(v value) []Attitude {
	if !v.given() {
		return nil
	}
	var out []Attitude
	for i, entry := range v.some("attitudes, such as [{pitch: 0}, {pitch: 8}]") {
		a := readAttitude(entry, Attitude{})
		if slices.Contains(out, a) {
			entry.faultf("is the same as one before: give each attitude once")
		}
		if i == MostAttitudes {
			entry.faultf("is one too many: give %d attitudes at most", MostAttitudes)
		}
		out = append(out, a)
	}
	return out
}
