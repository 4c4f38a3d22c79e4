package geometry

import (
	"math"
	"sort"
	"strings"
)

// Sides names the six directions of a tank's own frame. The zero value has the front at +x
// and the left at +y. Top is always +z, and the left is a quarter turn from the front,
// anticlockwise seen from above.
type Sides struct {
	quarters int // of a turn from +x to the front, anticlockwise seen from above; 0 to 3
}

// FrontAt returns the sides of a tank whose front is at one of ±x and ±y: the one nearest
// to the direction toward.
func FrontAt(toward Vec) Sides {
	best := Sides{}
	for q := range 4 {
		if s := (Sides{q}); s.Front().Dot(toward) > best.Front().Dot(toward)+1e-12 {
			best = s
		}
	}
	return best
}

// Front returns the direction of the front, of length 1.
func (s Sides) Front() Vec {
	return [4]Vec{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}}[s.quarters]
}

// Left returns the direction of the left, of length 1.
func (s Sides) Left() Vec { return Sides{(s.quarters + 1) % 4}.Front() }

// Side is one of the six directions with its word.
type Side struct {
	Direction Vec    // of length 1
	Name      string // front
}

// All lists the six directions, opposite ones side by side.
func (s Sides) All() [6]Side {
	front, left, up := s.Front(), s.Left(), Vec{Z: 1}
	return [6]Side{
		{front, "front"}, {front.Scale(-1), "rear"},
		{left, "left"}, {left.Scale(-1), "right"},
		{up, "top"}, {up.Scale(-1), "bottom"},
	}
}

// Find returns the direction of the side with that name, false when there is none.
func (s Sides) Find(name string) (Vec, bool) {
	for _, side := range s.All() {
		if side.Name == name {
			return side.Direction, true
		}
	}
	return Vec{}, false
}

// Ends returns the words for the low and the high end of each axis.
func (s Sides) Ends() [3][2]string {
	var out [3][2]string
	for axis := range 3 {
		d := Vec{}.WithAxis(axis, 1)
		out[axis] = [2]string{s.Facing(d.Scale(-1)), s.Facing(d)}
	}
	return out
}

// Name returns the word for the side that direction d points at. Between two sides it
// names both, the nearer one first: front left.
func (s Sides) Name(d Vec) string {
	const leaning = 0.38 // sine of 22.5 degrees: beyond it the second side is named too
	const alike = 1e-9   // as near to both
	d = d.Unit()
	var words []string
	best := -1.0
	for _, side := range s.All() {
		c := d.Dot(side.Direction)
		switch {
		case c < leaning:
		case c > best+alike:
			words = append([]string{side.Name}, words...)
			best = c
		default:
			words = append(words, side.Name)
		}
	}
	return strings.Join(words, " ")
}

// Facing returns the one side that direction d points to most.
func (s Sides) Facing(d Vec) string {
	all := s.All()
	best := 0
	for i := range all {
		if d.Dot(all[i].Direction) > d.Dot(all[best].Direction) {
			best = i
		}
	}
	return all[best].Name
}

// Faced names the sides that wall faces by its normals, each with its area: the largest first, each
// with an eighth of the wall or more; inner sheets are the baffle. Wall on five of them or more
// is all round.
func (s Sides) Faced(normals []Vec, areas []float64, sheet func(i int) bool) string {
	named := s.All()
	names := make([]string, 0, len(named)+1)
	for _, side := range named {
		names = append(names, side.Name)
	}
	names = append(names, "baffle")
	faced, total := make([]float64, len(names)), 0.0
	for i, n := range normals {
		best := 0
		for k := range named {
			if n.Dot(named[k].Direction) > n.Dot(named[best].Direction) {
				best = k
			}
		}
		if sheet(i) {
			best = len(named)
		}
		faced[best] += areas[i]
		total += areas[i]
	}
	var order []int
	for k := range names {
		if faced[k] >= total/8 && faced[k] > 0 {
			order = append(order, k)
		}
	}
	if len(order) >= 5 {
		return "all round"
	}
	percent := func(k int) float64 { return math.Round(100 * faced[k] / total) } // alike but for rounding: in the order of named
	sort.SliceStable(order, func(i, k int) bool { return percent(order[i]) > percent(order[k]) })
	var words []string
	for _, k := range order {
		words = append(words, names[k])
	}
	if last := len(words) - 1; last > 0 {
		return strings.Join(words[:last], ", ") + " and " + words[last]
	}
	return strings.Join(words, "")
}

// Third says where p is by thirds of a box each way, as in "front left bottom"; middle
// thirds are left out, and "middle" stands for all three of them.
func (s Sides) Third(p Vec, box Box) string {
	var words []string
	from, size := p.Sub(box.Centre()), box.Size()
	for _, side := range s.All() {
		if from.Dot(side.Direction) > s.extent(size, side.Direction)/6 {
			words = append(words, side.Name)
		}
	}
	if len(words) == 0 {
		return "middle"
	}
	return strings.Join(words, " ")
}

// Length returns the size of a box from rear to front, and Width from left to right.
func (s Sides) Length(box Box) float64 { return s.extent(box.Size(), s.Front()) }
func (s Sides) Width(box Box) float64  { return s.extent(box.Size(), s.Left()) }

// extent returns a box's size along one of the six directions.
func (s Sides) extent(size, d Vec) float64 {
	along := d.Dot(size)
	return max(along, -along)
}
