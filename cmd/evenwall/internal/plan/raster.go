package plan

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/lattice"
	"evenwall/geometry/vessel"
)

// How fine the raster for trapped air is: air is judged by its cells first, and what it
// keeps dry is then taken from the facets.
const (
	rasterCells     = 200_000   // in the tank, usually
	mostRasterCells = 1_500_000 // in the tank, where a small opening asks for small cells
	acrossOpening   = 3.0       // cells across the smallest open opening
)

// raster is the inside of a tank in cells, as the search for air needs it. It is a
// vessel.Raster.
type raster struct {
	*lattice.Liquid
	vessel *vessel.Vessel
	first  []int32 // neighbours of cell n are near[first[n]:first[n+1]]
	near   []int32
}

// newRaster lays cells of a size over all of the inside, with a face of cells at the level.
func newRaster(v *vessel.Vessel, surface geometry.Plane, size float64) (*raster, error) {
	shell := v.Shell.Transformed(v.Turn.Apply)
	l, err := lattice.New(lattice.Placement{Bounds: shell.Bounds(), Level: surface.Offset, H: size})
	if err != nil {
		return nil, err
	}
	s := lattice.Enclose(l, &shell)
	var sheets geometry.Mesh
	for i := range v.Baffles {
		sheets.Append(v.Baffles[i].Transformed(v.Turn.Apply))
	}
	roof := l.Origin.Z + (float64(l.N[2])-0.5)*l.H // above all of the tank: every cell inside counts
	q := lattice.Fill(lattice.Filling{Surface: s, Shell: &shell, Sheets: &sheets, Level: roof})
	r := &raster{Liquid: q, vessel: v}
	r.join(lattice.Parted(l, &sheets))
	return r, nil
}

// join lists the neighbours of each cell. A sheet between two centres parts their cells, also
// where it stands so steep that it takes little of the face. A face that a sheet takes more
// than half of counts as closed: at the sheet's edge on the wall a part of the face lies
// outside the tank.
func (r *raster) join(parted [3]map[int32]bool) {
	r.first = make([]int32, 1, r.Len()+1)
	r.near = make([]int32, 0, 6*r.Len())
	for cell := range int32(r.Len()) {
		r.EachOpen(cell, func(other int32, axis int, open float64) {
			if open >= 0.5 && !parted[axis][min(r.Keys[cell], r.Keys[other])] {
				r.near = append(r.near, other)
			}
		})
		r.first = append(r.first, int32(len(r.near)))
	}
}

// cellSize returns the side of a cell, m, of a raster of about usual cells in the tank, and
// at most so many where a small opening asks for more.
func cellSize(v *vessel.Vessel, usual, most float64) float64 {
	h := math.Cbrt(v.Whole() / usual)
	for i := range v.Openings {
		if o := &v.Openings[i]; o.Use == vessel.Open {
			h = math.Min(h, o.Diameter/acrossOpening)
		}
	}
	return math.Max(h, math.Cbrt(v.Whole()/most))
}

// Centre implements vessel.Cells.
func (r *raster) Centre(cell int32) geometry.Vec { return r.Point(cell) }

// Neighbours implements vessel.Cells.
func (r *raster) Neighbours(cell int32, into []int32) []int32 {
	return append(into, r.near[r.first[cell]:r.first[cell+1]]...)
}

// Vent implements vessel.Cells.
func (r *raster) Vent(cell int32) bool { return r.vessel.Vents(r.Point(cell), r.Lattice.H) }

// CellAt implements vessel.Raster.
func (r *raster) CellAt(p geometry.Vec) (int32, bool) {
	key, ok := r.Lattice.Nearest(p)
	if !ok {
		return 0, false
	}
	cell := r.Find(key)
	return cell, cell >= 0
}
