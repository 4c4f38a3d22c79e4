package vessel

import (
	"slices"

	"evenwall/geometry"
)

// Kind says what a facet of wall belongs to.
type Kind uint8

const (
	Shell  Kind = iota // the tank's skin: liquid on its inner side
	Baffle             // an inner sheet: both faces are wall
)

// String returns the trade's word.
func (k Kind) String() string {
	if k == Baffle {
		return "baffle"
	}
	return "shell"
}

// Faces is a set of the two faces of a facet.
type Faces uint8

const (
	Inner Faces = 1 // the face that the facet's normal points away from
	Outer Faces = 2 // the face it points to: in the tank only on baffles
	Both        = Inner | Outer
)

// Count returns how many faces are in the set.
func (f Faces) Count() int { return int(f&1 + f>>1&1) }

// Faces returns the faces of a facet of this kind that the liquid can touch.
func (k Kind) Faces() Faces {
	if k == Baffle {
		return Both
	}
	return Inner
}

// Wall is the tank's steel, and apart from it the surface that stands in its openings.
type Wall struct {
	Mesh    geometry.Mesh
	Kind    []Kind  // of each face of Mesh
	Source  []int32 // the face of the shell, or of the baffle, that each face of Mesh is part of
	Sheet   []int32 // the baffle each face of Mesh belongs to, -1 for the shell
	Hole    geometry.Mesh
	Opening []int32 // the opening that each face of Hole stands in
}

// wallOf cuts the openings out of the shell and adds the baffles, which no opening cuts.
func wallOf(t *Tank) Wall {
	shell := geometry.Mesh{Vertices: t.Shell.Vertices, Faces: t.Shell.Faces}
	source := make([]int32, len(shell.Faces))
	for i := range source {
		source[i] = int32(i)
	}
	w := Wall{}
	for i := range t.Openings {
		if t.Openings[i].Use == Steel {
			continue
		}
		outside, inside, fromOutside, fromInside := t.Openings[i].Disc().Cut(&shell)
		if len(fromInside) == 0 {
			continue
		}
		for k, from := range fromOutside {
			fromOutside[k] = source[from]
		}
		shell, source = outside, fromOutside
		w.Hole.Append(inside)
		w.Opening = appendSame(w.Opening, int32(i), len(fromInside))
	}
	w.Mesh = geometry.Mesh{Vertices: slices.Clip(shell.Vertices), Faces: slices.Clip(shell.Faces)} // shared, not changed: appending copies
	w.Source = source
	w.Kind = make([]Kind, len(source))
	w.Sheet = appendSame(nil, -1, len(source))
	for i := range t.Baffles {
		w.addBaffle(int32(i), t.Baffles[i])
	}
	return w
}

func (w *Wall) addBaffle(number int32, m geometry.Mesh) {
	w.Mesh.Append(m)
	w.Sheet = appendSame(w.Sheet, number, len(m.Faces))
	for i := range m.Faces {
		w.Kind = append(w.Kind, Baffle)
		w.Source = append(w.Source, int32(i))
	}
}

// Area returns the area of all wall, both faces of baffles counted, m².
func (w *Wall) Area() float64 {
	sum := 0.0
	for i, kind := range w.Kind {
		sum += w.Mesh.Triangle(i).Area() * float64(kind.Faces().Count())
	}
	return sum
}

func appendSame(to []int32, value int32, times int) []int32 {
	for range times {
		to = append(to, value)
	}
	return to
}
