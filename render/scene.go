package render

import (
	"fmt"
	"math"

	"evenwall/geometry"
)

// State says what a facet of the surface is.
type State uint8

const (
	Wetted    State = iota // steel under the liquid
	Dry                    // steel above the liquid, or under trapped air
	Open                   // no steel: inside an opening's circle
	Insulated              // closed by something that carries no current
	NoData                 // no figure could be computed
	Pocket                 // steel that trapped air keeps dry, where the picture is not of current
	Ceiling                // wetted steel near level from below, likewise
)

// Surface is the inside of a tank with a figure for each facet. Normals point outward,
// from the liquid into the steel.
type Surface struct {
	Mesh  geometry.Mesh
	Value []float64 // A/m² into the wall, one a face; NaN: none. nil: none anywhere
	State []State   // one a face; nil: all wetted
	Sheet []bool    // face of an internal sheet, which has one a side; nil: none
}

// Opening is a round hole in the tank.
type Opening struct {
	Name     string
	Centre   geometry.Vec // m
	Axis     geometry.Vec // outward, any length
	Diameter float64      // m
}

// Plane is the liquid's surface in the tank's own frame: a propped tank tilts it.
// The zero value stands for no surface to draw.
type Plane struct {
	Point  geometry.Vec // m
	Normal geometry.Vec // upward along the plumb line
}

// Height returns how far p lies above the plane, m; 0 for the zero plane.
func (l Plane) Height(p geometry.Vec) float64 { return p.Sub(l.Point).Dot(l.Normal.Unit()) }

// Notes is the small print of a picture. It is drawn on every one.
type Notes struct {
	NoField   bool     // no current is in the picture: nothing is said of field and chemistry
	Field     string   // uncertainty of the computed field, in words; empty: said to be not estimated
	Chemistry string   // uncertainty of what the charge does; empty: the usual sentence
	Warnings  []string // drawn on top, in bold: a solver that stopped early, a level guessed
}

// Scene is what a picture shows.
type Scene struct {
	Title    string
	Surface  Surface
	Rods     []geometry.Rod
	Openings []Opening // the first is the filler
	Liquid   Plane
	Sides    geometry.Sides
	Scale    Scale   // zero: chosen from the surface
	Least    float64 // A/m²; a patch that gets less hardly changes. 0: not drawn
	Patches  []Patch // hatched, numbered and listed
	Notes    Notes

	charge bool // the figures are charge, A h/m², and not current density
}

// Settings says how to draw. The zero value is the documented default.
type Settings struct {
	Width int // of the picture, pixels; 0: 1200
}

func (s Settings) width() int {
	if s.Width <= 0 {
		return 1200
	}
	return s.Width
}

// check reports values that do not belong together.
func (s *Surface) check() error {
	faces := len(s.Mesh.Faces)
	for _, list := range []struct {
		name  string
		count int
	}{{"values", len(s.Value)}, {"states", len(s.State)}, {"sheet marks", len(s.Sheet)}} {
		if list.count != 0 && list.count != faces {
			return fmt.Errorf("%d %s for %d facets: give one for each facet, or none", list.count, list.name, faces)
		}
	}
	if faces == 0 {
		return fmt.Errorf("the surface has no facets: nothing to draw")
	}
	for i, v := range s.Mesh.Vertices {
		if !v.IsFinite() {
			return fmt.Errorf("corner %d of the surface is %v: mend the surface first", i, v)
		}
	}
	if size := s.Mesh.Bounds().Size(); size.Norm() == 0 {
		return fmt.Errorf("the surface is a single point: nothing to draw")
	}
	return nil
}

// state returns what face i is; a wetted face without a figure is NoData.
func (s *Surface) state(i int) State {
	state := Wetted
	if s.State != nil {
		state = s.State[i]
	}
	if state == Wetted && math.IsNaN(s.value(i)) {
		return NoData
	}
	return state
}

// value returns the figure of face i, A/m², NaN where there is none.
func (s *Surface) value(i int) float64 {
	if s.Value == nil || math.IsInf(s.Value[i], 0) {
		return math.NaN()
	}
	return s.Value[i]
}

func (s *Surface) sheet(i int) bool { return s.Sheet != nil && s.Sheet[i] }

// wettedRange returns the least and the greatest figure of wetted wall, A/m²; ok is
// false where there is none.
func (s *Surface) wettedRange() (least, most float64, ok bool) {
	least, most = math.Inf(1), math.Inf(-1)
	for i := range s.Mesh.Faces {
		if s.state(i) == Wetted {
			least, most, ok = min(least, s.value(i)), max(most, s.value(i)), true
		}
	}
	return least, most, ok
}
