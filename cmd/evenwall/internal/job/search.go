package job

// Search is what the search for a layout may do.
type Search struct {
	Clearance float64   // least bare metal to steel, m; default 25 mm
	Rods      []float64 // diameters in the drawer, m; default 8, 10 and 12 mm
	Count     int       // rods at once, at most; default 1
	Stations  int       // positions in turn, at most; default 1
	Tolerance Tolerance // of the hand; default none
}

// Tolerance is how far a rod may hang from where it is meant to: all of it at once.
type Tolerance struct {
	Position float64 // any way at the rim, m
	Tilt     float64 // any way about the point at the rim, rad
	Depth    float64 // along the rod, either way, m
}

// IsZero reports whether nothing was said of the hand.
func (t Tolerance) IsZero() bool { return t == Tolerance{} }

// mostTilt is beyond what any hand is off, rad.
const mostTilt = 45 * degree

func readTolerance(v value) Tolerance {
	f := v.fields()
	t := Tolerance{
		Position: f.get("position").quantity(length, notNegative),
		Tilt:     f.get("tilt").quantity(angle, notNegative),
		Depth:    f.get("depth").quantity(length, notNegative),
	}
	if t.Tilt > mostTilt {
		f.get("tilt").faultf("%s degrees is no slip of the hand: give 45 or less", angle.format(t.Tilt))
	}
	f.finish()
	return t
}

// Aim is what the wall is to get. The defaults are common practice, no source: a test
// piece from the same tank is better.
type Aim struct {
	Charge float64 // what a patch needs, C/m²; default 150 A h/m²
	Least  float64 // below this current density a patch counts as getting nothing, A/m²; default 1
	Most   float64 // above this more counts no more, A/m²; default 50
	Share  float64 // of the reachable wall, 0 to 1; default 0.95

	Session float64 // attended, at a stretch, s; 0 when not said
	Fallen  float64 // share of the first current that is gone when the rod is to be scrubbed, 0 to 1; 0 when not said
}

func defaultSearch() Search {
	return Search{Clearance: 0.025, Rods: []float64{0.008, 0.010, 0.012}, Count: 1, Stations: 1}
}

func defaultAim() Aim { return Aim{Charge: 150 * hour, Least: 1, Most: 50, Share: 0.95} }

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
	if stations := f.get("stations"); stations.given() {
		s.Stations = stations.count(1)
	}
	s.Tolerance = readTolerance(f.get("tolerance"))
	f.finish()
	return s
}

func readAim(v value) Aim {
	f := v.fields()
	a := defaultAim()
	a.Charge = f.get("charge").quantityOr(a.Charge, charge, positive)
	a.Least = f.get("least").quantityOr(a.Least, density, positive)
	a.Most = f.get("most").quantityOr(a.Most, density, positive)
	a.Share = f.get("share").quantityOr(a.Share, share, positive)
	a.Session = f.get("session").quantity(duration, positive)
	a.Fallen = f.get("fallen").quantity(share, positive)
	if a.Fallen >= 1 {
		f.get("fallen").faultf("%s leaves no current: give less than 100 %%, such as 25 %%", share.format(a.Fallen))
	}
	if a.Share > 1 {
		f.get("share").faultf("%s is more than all of the wall: give 100 %% or less", share.format(a.Share))
	}
	if a.Most < a.Least {
		f.of.faultf("most, %s, is below least, %s", density.format(a.Most), density.format(a.Least))
	}
	f.finish()
	return a
}
