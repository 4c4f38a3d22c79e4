package report

import (
	"fmt"
	"math"
	"strconv"

	"evenwall/geometry"
)

// Patch is a piece of wetted wall in the tank's own frame.
type Patch struct {
	Centre  geometry.Vec // m
	Normal  geometry.Vec // outward, of length 1; a baffle has a patch for each face
	Area    float64      // m²
	Density float64      // of the current into the wall, A/m²
}

const wallHeader = "x_mm,y_mm,z_mm,nx,ny,nz,area_mm2,j_a_m2\n"

// WallCSV returns wall.csv, a row for each patch in the order given. A figure that is
// not a finite number is an error that names its row.
func WallCSV(patches []Patch) ([]byte, error) {
	out := make([]byte, 0, len(wallHeader)+len(patches)*96)
	out = append(out, wallHeader...)
	for i, p := range patches {
		row := [...]float64{p.Centre.X * 1e3, p.Centre.Y * 1e3, p.Centre.Z * 1e3,
			p.Normal.X, p.Normal.Y, p.Normal.Z, p.Area * 1e6, p.Density}
		for k, x := range row {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return nil, fmt.Errorf("wall.csv: row %d holds %v, not a finite number: the field was not solved there", i+1, x)
			}
			if k > 0 {
				out = append(out, ',')
			}
			out = strconv.AppendFloat(out, x, 'g', digits, 64)
		}
		out = append(out, '\n')
	}
	return out, nil
}
