package table

import (
	"fmt"
	"math"

	"evenwall/field"
	"evenwall/geometry"
)

// hung is a layout's rods as points, in the lattice's frame.
type hung struct {
	stretches []stretch
	points    []point
	plastic   []tube
}

// tube is a short length of plastic in the liquid.
type tube struct {
	at     geometry.Vec
	axis   geometry.Vec
	length float64 // m
	radius float64 // m
	rod    int
	beside bool // bare metal of its rod, whose stretch reckons with what the two do to each other
}

// stretch is a bare stretch in the liquid.
type stretch struct {
	rod         int
	first, last int // its points are points[first:last]
	length      float64
	radius      float64
	*field.Lumps
}

// point is a current on a rod's axis.
type point struct {
	at      geometry.Vec
	axis    geometry.Vec
	along   float64 // the rod, m from its tip
	spread  float64 // see field.Lumps, m²
	stretch int
	radius  float64
}

// DryError says that no bare metal of a layout is under the liquid.
type DryError struct{}

func (DryError) Error() string { return field.ErrDry.Error() }

// hang finds the points of rods in the lattice's frame.
func (t *Table) hang(rods []geometry.Rod) (*hung, error) {
	h := &hung{}
	for i := range rods {
		if err := t.hangOne(h, i, &rods[i]); err != nil {
			return nil, err
		}
	}
	if len(h.points) == 0 {
		return nil, field.ErrDry
	}
	return h, nil
}

func (t *Table) hangOne(h *hung, number int, rod *geometry.Rod) error {
	if len(rod.Path) < 2 || !(rod.Radius > 0) {
		return fmt.Errorf("rod %q has no length or no thickness", rod.Name)
	}
	wet := t.wetLength(rod)
	bare := geometry.MergeSpans(rod.Bare, wet)
	for i, s := range bare {
		if s.Length() < 1e-4 {
			continue
		}
		below, above := s.From, t.depth(rod, s.To, wet)
		if i > 0 {
			below = s.From - bare[i-1].To
		}
		if i+1 < len(bare) { // what follows is plastic, then a further stretch: no surface near
			above = math.Max(bare[i+1].From-s.To, 8*math.Max(rod.Sleeve, rod.Radius))
		}
		l, err := t.rods.find(field.Stretch{Radius: rod.Radius, Sleeve: math.Max(rod.Sleeve, rod.Radius), Flat: rod.Flat, Length: s.Length(), Below: below, Above: above})
		if err != nil {
			return err
		}
		h.add(number, rod, s, l)
	}
	h.coverAll(t, number, rod, append(bare, geometry.Span{From: wet, To: wet}))
	return nil
}

// depth returns how far under the surface a rod's plastic begins, m: of a rod that leans, its
// own length would bring the image in the surface too far away.
func (t *Table) depth(rod *geometry.Rod, along, wet float64) float64 {
	at, _ := rod.At(along)
	return math.Min(wet-along, math.Max(0, t.boxes.level-at.Z))
}

// coverAll appends the tubes of a rod's plastic: what is beside bare metal apart from the rest.
func (h *hung) coverAll(t *Table, number int, rod *geometry.Rod, bare []geometry.Span) {
	beside := field.PlasticBeside * math.Max(rod.Sleeve, rod.Radius)
	from := 0.0
	for i, s := range bare { // the last is empty, at the surface
		low, high := from, s.From // of what is not beside bare metal
		if i > 0 {
			low = math.Min(from+beside, s.From)
		}
		if i < len(bare)-1 {
			high = math.Max(low, s.From-beside)
		}
		h.cover(t, number, rod, geometry.Span{From: from, To: low}, true)
		h.cover(t, number, rod, geometry.Span{From: low, To: high}, false)
		h.cover(t, number, rod, geometry.Span{From: high, To: s.From}, true)
		from = s.To
	}
}

// tubeLength is about the length of a tube, m.
const tubeLength = 0.016

// cover appends the tubes of a length of plastic, as far as the table's nodes reach: nearer
// to steel little current passes.
func (h *hung) cover(t *Table, number int, rod *geometry.Rod, s geometry.Span, beside bool) {
	n := math.Ceil(s.Length() / tubeLength)
	for i := range int(n) {
		at, axis := rod.At(s.From + s.Length()*(float64(i)+0.5)/n)
		if t.boxes.find(at) != nil {
			h.plastic = append(h.plastic, tube{at, axis, s.Length() / n, math.Max(rod.Sleeve, rod.Radius), number, beside})
		}
	}
}

// add appends a stretch with its points.
func (h *hung) add(number int, rod *geometry.Rod, s geometry.Span, l *field.Lumps) {
	n := l.Self.SymmetricDim()
	k := stretch{rod: number, first: len(h.points), length: s.Length(), radius: rod.Radius, Lumps: l}
	for i := range n {
		along := s.From + s.Length()*float64(i)/float64(n-1) + l.Shift[i]
		at, axis := rod.At(along)
		h.points = append(h.points, point{at, axis, along, l.Spread[i], len(h.stretches), rod.Radius})
	}
	k.last = len(h.points)
	h.stretches = append(h.stretches, k)
}

// wetLength returns how much of a rod is under the liquid, m from its tip.
func (t *Table) wetLength(rod *geometry.Rod) float64 {
	level, sum := t.boxes.level, 0.0
	for i := 1; i < len(rod.Path); i++ {
		a, b := rod.Path[i-1], rod.Path[i]
		if a.Z >= level {
			return sum
		}
		if b.Z > level {
			return sum + b.Dist(a)*(level-a.Z)/(b.Z-a.Z)
		}
		sum += b.Dist(a)
	}
	return sum
}
