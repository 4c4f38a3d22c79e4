package geometry

import "strings"

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
