// Package passage finds out whether an anode goes in through its opening, past spout, rim
// and baffles, and how: straight along itself, threaded as a rigid body, or drawn along its
// own course when it is flexible.
package passage

import (
	"math"

	"evenwall/geometry"
)

// Way is an anode in its place and what it has to get past. Points are in the tank's frame, m.
type Way struct {
	Rod      *geometry.Rod
	Hold     geometry.Hold  // where it hangs in its opening
	Steel    *geometry.Tree // all steel, rims included
	Rim      float64        // radius of the opening, m
	Flexible bool           // follows its own course
	Patience int            // poses looked at before the search gives up; 0: 1000
	Stall    int            // poses looked at without coming farther out before it gives up; 0: any number
}

// Pose is a place of the rod on its way, by what a hand can set. The zero value but for S
// is in line with where it will hang.
type Pose struct {
	S     float64           // m of the rod below the rim, along it; below 0 the tip is outside
	Shift geometry.Vec      // of its axis in the plane of the rim, m
	Lean  geometry.Vec      // turn of the rod at the rim against its final direction: axis times angle, rad
	Spin  float64           // about itself, rad
	Turn  geometry.Rotation // of all of the rod against its place
}

// Result is how an anode goes in, or what stops it.
type Result struct {
	In       bool
	Straight bool    // in along itself, without a turn
	Poses    []Pose  // from outside to its place; straight lines between them are free
	Spare    float64 // least distance to steel on the way, m, as far as it was looked at
	Stop     Stop    // when it does not go in
}

// Stop is what keeps an anode from coming out of its place again, which is the same as what
// keeps it from going in.
type Stop struct {
	Left float64      // m of it that are still below the rim at the farthest pose found
	Gap  geometry.Gap // at the first pose beyond: Distance below 0 is how deep it would cut
	Wide bool         // some part is wider than the opening
}

// Find looks for a way in. It searches backward, from the place to the outside: what comes
// out goes in. Not finding one is proof only of what stops a straight rod along itself, or
// of a part wider than the opening; else it is a search that gave up.
func Find(w Way) Result {
	if r, settled := w.alongItself(); settled {
		return r
	}
	t := newThread(&w, partsOf(w.Rod, w.Rod.Length()))
	way, stop := t.search()
	if way == nil {
		return Result{Stop: stop}
	}
	return t.result(way)
}

// Passes is Find for those who only ask whether there is a way, in half the time: with one, the
// stop is the zero value.
func Passes(w Way) (bool, Stop) {
	if r, settled := w.alongItself(); settled {
		return r.In, r.Stop
	}
	way, stop := newThread(&w, partsOf(w.Rod, w.Rod.Length())).search()
	if way == nil {
		return false, stop
	}
	return true, Stop{}
}

// alongItself looks whether the anode is drawn out along its own path, and whether that settles
// the matter.
func (w *Way) alongItself() (r Result, settled bool) {
	parts := partsOf(w.Rod, w.Hold.S)
	if r := widest(parts); r > w.Rim+1e-6 {
		at := w.Hold.At
		return Result{Stop: Stop{Left: w.Hold.S, Wide: true, Gap: geometry.Gap{Distance: w.Rim - r, OnRod: at, OnWall: at, Face: -1}}}, true
	}
	drawn := drawnOut(w, parts)
	switch {
	case drawn.Distance >= 0 && (w.Flexible || straightBelow(w)):
		return Result{In: true, Straight: !w.Flexible, Spare: drawn.Distance, Poses: []Pose{{S: 0, Turn: geometry.Identity()}, {S: w.Hold.S, Turn: geometry.Identity()}}}, true
	case w.Flexible:
		return Result{Stop: Stop{Left: w.Hold.S, Gap: drawn}}, true
	}
	return Result{}, false
}

// part is a stretch of the anode with the radius of all that sits on it.
type part struct {
	span   geometry.Span
	radius float64 // m
}

// partsOf returns what has to pass the opening: metal, sleeve, spacers and guard up to s.
func partsOf(r *geometry.Rod, s float64) []part {
	var out []part
	add := func(from, to, radius float64) {
		if to = math.Min(to, s); to > from {
			out = append(out, part{geometry.Span{From: from, To: to}, radius})
		}
	}
	at, sleeve := 0.0, math.Max(r.Radius, r.Sleeve)
	for _, bare := range r.Bare {
		add(at, bare.From, sleeve)
		add(bare.From, bare.To, r.Radius)
		at = bare.To
	}
	add(at, s, sleeve)
	for _, disc := range r.Spacers {
		add(math.Max(0, disc.At-disc.Thick/2), disc.At+disc.Thick/2, disc.Radius)
	}
	if r.Guard.Outside > 0 {
		add(0, s, r.Guard.Outside)
	}
	return out
}

// widest returns the largest radius of the parts, m.
func widest(parts []part) float64 {
	most := 0.0
	for _, p := range parts {
		most = math.Max(most, p.radius)
	}
	return most
}

// drawnOut returns how near steel the anode comes when it is drawn out along its own path:
// each part passes all of the path above it, as wide as the widest part below.
func drawnOut(w *Way, parts []part) geometry.Gap {
	least := geometry.Gap{Distance: math.Inf(1), Face: -1}
	for _, p := range parts {
		swept := geometry.Rod{Path: w.Rod.Path, Radius: p.radius, Flat: w.Rod.Flat || p.radius > w.Rod.Radius}
		swept.Bare = []geometry.Span{{From: p.span.From, To: math.Min(w.Hold.S+p.radius, w.Rod.Length())}}
		if g := geometry.BareClearance(&swept, w.Steel, nil); g.Distance < least.Distance {
			least = g
		}
	}
	return least
}

// straightBelow reports whether the anode is straight from its tip to above the rim.
func straightBelow(w *Way) bool {
	below := geometry.Rod{Path: []geometry.Vec{w.Rod.Path[0]}}
	for _, piece := range w.Rod.Pieces(0, w.Hold.S) {
		below.Path = append(below.Path, piece[1])
	}
	return below.IsStraight()
}

// LeastBend returns the least radius to which a course is bent, m: at each corner, that of the
// arc that touches the middles of the shorter of its two legs; +Inf when it is straight.
func LeastBend(path []geometry.Vec) float64 {
	least := math.Inf(1)
	for i := 1; i+1 < len(path); i++ {
		a, b := path[i].Sub(path[i-1]), path[i+1].Sub(path[i])
		turn := math.Atan2(a.Cross(b).Norm(), a.Dot(b))
		if turn > 1e-9 {
			least = math.Min(least, math.Min(a.Norm(), b.Norm())/2/math.Tan(turn/2))
		}
	}
	return least
}
