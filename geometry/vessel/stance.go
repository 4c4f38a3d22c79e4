package vessel

import (
	"math"

	"evenwall/geometry"
)

// Stances compares ways of propping one tank, each filled to the brim, on one raster laid
// in the tank's own frame: coarse, and quick enough for hundreds of them. What it picks is
// to be looked at again with TrappedAir on a raster of its own.
type Stances struct {
	vessel *Vessel
	raster Raster
	size   float64 // side of a cell, m
	wall   []clump
	whole  float64 // area of all wall, m²
}

// clump is the wall of one direction at one cell.
type clump struct {
	at     geometry.Vec // middle
	normal geometry.Vec // from the liquid into the steel, times the area, m²
	area   float64      // m²
	cell   int32        // first off its face; -1: none
}

// Stance is one way of propping and what comes of it, by the raster. Areas are in m².
type Stance struct {
	Pitch, Roll float64 // rad
	Wet         float64 // wall under the brim and out of trapped air
	Trapped     float64 // wall under the brim in trapped air
	Blind       float64 // of Wet, ceilings within NearLevel of level: gas creeps off them, if at all
	Air         float64 // volume of the trapped air, m³
	Held        bool    // false: the liquid runs out at the bottom, or no opening is open
}

// NearLevel is the slope of a ceiling under which gas is taken to linger, rad: common
// practice, no source.
const NearLevel = 15 * math.Pi / 180

// NewStances prepares a vessel that is not turned, with a raster over all of its inside.
func NewStances(v *Vessel, raster Raster, size float64) *Stances {
	s := &Stances{vessel: v, raster: raster, size: size}
	s.gather()
	return s
}

// gather sorts the wall into clumps.
func (s *Stances) gather() {
	index := map[[2]int32]int32{}
	for i, kind := range s.vessel.Wall.Kind {
		s.vessel.Wall.Mesh.Triangle(i).Split(2*s.size, func(t geometry.Triangle) {
			s.add(index, t, t.AreaVector())
			if kind == Baffle {
				s.add(index, t, t.AreaVector().Scale(-1))
			}
		})
	}
}

// add adds one face of a piece of wall, by its area vector.
func (s *Stances) add(index map[[2]int32]int32, t geometry.Triangle, out geometry.Vec) {
	area := out.Norm()
	if area == 0 {
		return
	}
	s.whole += area
	c := clump{at: t.Centroid(), normal: out, area: area}
	c.cell = FirstOff(s.raster, c.at, out.Scale(-1/area), s.size)
	if c.cell < 0 {
		s.wall = append(s.wall, c)
		return
	}
	key := [2]int32{c.cell, heading(out)}
	k, ok := index[key]
	if !ok {
		index[key] = int32(len(s.wall))
		s.wall = append(s.wall, c)
		return
	}
	old := &s.wall[k]
	share := area / (old.area + area)
	old.at, old.normal, old.area = old.at.Lerp(c.at, share), old.normal.Add(out), old.area+area
}

// heading returns which of 26 ways a vector points.
func heading(d geometry.Vec) int32 {
	d = d.Unit()
	third := func(x float64) int32 {
		switch {
		case x > 0.38:
			return 2
		case x < -0.38:
			return 0
		}
		return 1
	}
	return 9*third(d.X) + 3*third(d.Y) + third(d.Z)
}

// turnedCells are cells of the tank's own frame as they lie when it is propped.
type turnedCells struct {
	Raster
	turn geometry.Rotation
}

func (c turnedCells) Centre(cell int32) geometry.Vec { return c.turn.Apply(c.Raster.Centre(cell)) }

// At judges one way of propping.
func (s *Stances) At(pitch, roll float64) Stance {
	turn := geometry.Attitude(pitch, roll)
	up := turn.Inverse().Apply(geometry.Vec{Z: 1})
	out := Stance{Pitch: pitch, Roll: roll}
	level, ok := s.brim(up)
	if !ok {
		return out
	}
	out.Held = true
	air := TrappedAir(turnedCells{s.raster, turn}, Pour{Level: level, Size: s.size})
	counts := make([]bool, len(air.Pockets))
	for i, p := range air.Pockets {
		if counts[i] = s.isReal(turn, &p); counts[i] {
			out.Air += p.Volume
		}
	}
	steep := math.Cos(NearLevel)
	for i := range s.wall {
		c := &s.wall[i]
		height := up.Dot(c.at)
		switch {
		case height > level:
		case c.cell >= 0 && air.Pocket[c.cell] >= 0 && counts[air.Pocket[c.cell]] && height > air.Pockets[air.Pocket[c.cell]].Surface:
			out.Trapped += c.area
		default:
			out.Wet += c.area
			if up.Dot(c.normal) > steep*c.area {
				out.Blind += c.area
			}
		}
	}
	return out
}

// isReal tells a pocket from the steps of a raster that is askew to the ceiling.
func (s *Stances) isReal(turn geometry.Rotation, p *Pocket) bool {
	const least = 8 // cells
	if p.Cause != Trapped {
		return true
	}
	return len(p.Cells) >= least && turn.Apply(s.raster.Centre(p.Highest)).Z-p.Surface > 1.2*s.size
}

// brim returns the height of the lowest open rim along up, false when none is open or the
// lowest is at the bottom.
func (s *Stances) brim(up geometry.Vec) (float64, bool) {
	low, bottom := math.Inf(1), math.Inf(1)
	for i := range s.vessel.Openings {
		if o := &s.vessel.Openings[i]; o.Use == Open {
			h, _ := o.rimLow(up)
			low = math.Min(low, h)
		}
	}
	for i := range s.wall {
		bottom = math.Min(bottom, up.Dot(s.wall[i].at))
	}
	return low, !math.IsInf(low, 1) && low > bottom+2*s.size
}

// gasHeld is the volume of trapped air, and later of gas, for which a fifth of the wall would
// be given up, m³: common practice, no source. It does not grow with the tank, as what the gas
// may do does not shrink with it.
const gasHeld = 0.3e-3

// worth is what a stance is compared by, m²: half of a ceiling near level counts as lost
// (common practice, no source), trapped air costs, see gasHeld, and a thousandth of the wall
// is given up for every ten degrees of lean.
func (s *Stances) worth(a Stance) float64 {
	if !a.Held {
		return math.Inf(-1)
	}
	lean := math.Hypot(a.Pitch, a.Roll) / (10 * math.Pi / 180)
	return a.Wet - a.Blind/2 - s.whole*(0.2*a.Air/gasHeld+1e-3*lean)
}

// Better reports whether a is worth more than b by a thousandth of the wall.
func (s *Stances) Better(a, b Stance) bool { return s.worth(a) > s.worth(b)+1e-3*s.whole }

// Best looks for the way of propping that wets the most wall and leaves the least of it
// under ceilings near level, leaning at most so far, rad, in pitch and in roll: over a grid
// first, then in ever smaller steps.
func (s *Stances) Best(most float64) Stance {
	const across = 3 // steps of the grid to either side
	best := s.At(0, 0)
	try := func(pitch, roll float64) bool {
		if math.Abs(pitch) > most+1e-9 || math.Abs(roll) > most+1e-9 {
			return false
		}
		if a := s.At(pitch, roll); s.worth(a) > s.worth(best)+1e-9*s.whole {
			best = a
			return true
		}
		return false
	}
	for i := -across; i <= across; i++ {
		for k := -across; k <= across; k++ {
			try(most*float64(i)/across, most*float64(k)/across)
		}
	}
	for step := most / across / 2; step > 0.6*math.Pi/180; step /= 2 {
		for moved := true; moved; {
			at := best
			moved = false
			for _, d := range [8][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
				moved = try(at.Pitch+step*d[0], at.Roll+step*d[1]) || moved
			}
		}
	}
	return best
}

// Room is how far a tank may lean from a stance, each way by itself, rad.
type Room struct {
	PitchUp, PitchDown float64 // more pitch lowers +x, less lowers -x
	RollUp, RollDown   float64 // more roll lowers -y, less lowers +y
}

// Lowering returns the room for lowering the side at one of +x, -x, +y and -y.
func (r Room) Lowering(side geometry.Vec) float64 {
	switch {
	case side.X > 0.5:
		return r.PitchUp
	case side.X < -0.5:
		return r.PitchDown
	case side.Y < -0.5:
		return r.RollUp
	}
	return r.RollDown
}

// RoomAbout returns how far one may lean from a stance, up to most, rad, in steps of a
// degree, until more than a hundredth of the wall that it wets is dry instead.
func (s *Stances) RoomAbout(a Stance, most float64) Room {
	const step = math.Pi / 180
	reach := func(pitch, roll float64) float64 {
		holds := func(far int) bool {
			b := s.At(a.Pitch+float64(far)*step*pitch, a.Roll+float64(far)*step*roll)
			return b.Held && b.Wet >= 0.99*a.Wet
		}
		low, high := 0, int(most/step+0.5)+1 // holds at low, taken not to at high
		for high-low > 1 {
			if middle := (low + high) / 2; holds(middle) {
				low = middle
			} else {
				high = middle
			}
		}
		return float64(low) * step
	}
	return Room{reach(1, 0), reach(-1, 0), reach(0, 1), reach(0, -1)}
}
