package vessel

import (
	"math"

	"evenwall/geometry"
)

// Filling is the tank filled to a level, as though no air were trapped and nothing hung in it.
type Filling struct {
	Height   float64        // of the surface above the lowest inside point, m
	Surface  geometry.Plane // in the tank's frame, upper side up
	Volume   float64        // m³; baffles have none
	Capacity float64        // m³ to the brim as propped; NaN when there is no brim
	Wetted   Wetted
}

// Wetted is the part of the wall under the liquid. A facet of a baffle is there once and
// stands for both its faces, unless one of them lies in trapped air.
type Wetted struct {
	Mesh   geometry.Mesh
	Kind   []Kind  // of each facet
	Faces  []Faces // of each facet, those that the liquid touches
	Source []int32 // the facet of Wall.Mesh each is part of
}

// Area returns the wetted area, both faces of baffles counted, m².
func (w *Wetted) Area() float64 {
	return w.AreaOf(Shell) + w.AreaOf(Baffle)
}

// AreaOf returns the wetted area of one kind, both faces of baffles counted, m².
func (w *Wetted) AreaOf(kind Kind) float64 {
	sum := 0.0
	for i, k := range w.Kind {
		if k == kind {
			sum += w.Mesh.Triangle(i).Area() * float64(w.Faces[i].Count())
		}
	}
	return sum
}

// Skim is how far above the level a facet may lie and still count as wetted, when all of
// it lies that near to the level: a roof in the liquid's plane is wetted although its
// coordinates are rounded, m. The liquid creeps up farther than that by itself.
const Skim = 5e-5

// Fill returns the tank filled to a height above the lowest inside point, m, as Resolve
// gives it. Volume and area are exact for the facets.
func (v *Vessel) Fill(height float64) Filling {
	f := Filling{Height: height, Surface: v.SurfaceAt(height), Capacity: math.NaN()}
	f.Volume = v.inside.below(height)
	if brim, err := v.Brim(); err == nil {
		f.Capacity = brim.Volume
	}
	f.Wetted = v.wetted(f.Surface)
	return f
}

// SkimHeight is Skim for this tank's surface: corners that are off by more, as those of a
// scan, may lie that much above a level that they are meant to lie in.
func (v *Vessel) SkimHeight() float64 { return max(Skim, v.Rough) }

// wetted cuts the wall at the surface.
func (v *Vessel) wetted(surface geometry.Plane) Wetted {
	rounding := 1e-9 * v.Wall.Mesh.Bounds().Size().Norm()
	mesh, source := v.Wall.Mesh.Below(surface, geometry.Slack{Corner: rounding, Facet: v.SkimHeight()})
	w := Wetted{Mesh: mesh, Source: source, Kind: make([]Kind, len(source)), Faces: make([]Faces, len(source))}
	for i, from := range source {
		w.Kind[i] = v.Wall.Kind[from]
		w.Faces[i] = w.Kind[i].Faces()
	}
	return w
}

// Whole returns the volume that the closed shell encloses, m³.
func (v *Vessel) Whole() float64 { return v.inside.whole }

// VolumeBelow returns the volume under a height above the lowest inside point, m³.
func (v *Vessel) VolumeBelow(height float64) float64 { return v.inside.below(height) }
