package vessel

import (
	"fmt"
	"math"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// Tank is what a job says about the tank.
type Tank struct {
	Shell    geometry.Mesh     // the inside skin, normals outward; may be open at openings and small holes
	Baffles  []geometry.Mesh   // inner sheets
	Openings []Opening         // in any order
	Turn     geometry.Rotation // from the tank's frame into the propped one; the zero value: not turned
	Rough    float64           // how far the shell's corners may be off, m; 0: exact
}

// Vessel is a tank made ready for questions. It is not changed by any of them.
type Vessel struct {
	Tank
	Wall   Wall
	Up     geometry.Vec // the plumb line upward, of length 1
	Lowest geometry.Vec // the lowest inside point as propped
	lids   []geometry.Triangle
	inside inside
}

// New cuts the openings out of the shell and measures it. The error says what is wrong
// with the shell or an opening.
func New(t Tank) (*Vessel, error) {
	if len(t.Shell.Faces) == 0 {
		return nil, fmt.Errorf("the tank's surface has no facets: give one with at least four")
	}
	for i := range t.Openings {
		if err := t.Openings[i].check(); err != nil {
			return nil, err
		}
	}
	v := &Vessel{Tank: t}
	v.lids = lidsOf(&t.Shell)
	v.turn()
	if v.inside.whole < 0 {
		v.Shell = turnedOut(&t.Shell)
		v.lids = lidsOf(&v.Shell)
		v.turn()
	}
	if !(v.inside.whole > 0) {
		return nil, fmt.Errorf("the tank's surface encloses no volume: it is flat, or its facets face both ways")
	}
	v.Wall = wallOf(&v.Tank)
	return v, nil
}

func (o *Opening) check() error {
	switch {
	case !(o.Diameter > 0) || math.IsInf(o.Diameter, 0):
		return fmt.Errorf("opening %q has the diameter %g mm: give one above 0", o.Name, o.Diameter*1000)
	case !o.Axis.IsFinite() || o.Axis.Norm() == 0:
		return fmt.Errorf("opening %q has no axis: give the direction outward, as in [0, 0, 1]", o.Name)
	case !o.Centre.IsFinite():
		return fmt.Errorf("opening %q has no centre: give the point [x, y, z]", o.Name)
	}
	return nil
}

// Turned returns the same vessel propped another way.
func (v *Vessel) Turned(turn geometry.Rotation) *Vessel {
	w := *v
	w.Turn = turn
	w.turn()
	return &w
}

// turn sets what depends on the attitude.
func (v *Vessel) turn() {
	if v.Turn == (geometry.Rotation{}) {
		v.Turn = geometry.Identity()
	}
	v.Up = v.Turn.Inverse().Apply(geometry.Vec{Z: 1})
	low := math.Inf(1)
	for _, f := range v.Shell.Faces {
		for _, k := range f {
			if p := v.Shell.Vertices[k]; v.Up.Dot(p) < low {
				low, v.Lowest = v.Up.Dot(p), p
			}
		}
	}
	v.inside = insideOf(v)
}

// Height returns the height of p along the plumb line above the lowest inside point, m.
func (v *Vessel) Height(p geometry.Vec) float64 { return v.Up.Dot(p.Sub(v.Lowest)) }

// SurfaceAt returns the level plane at a height above the lowest inside point, its upper side up.
func (v *Vessel) SurfaceAt(height float64) geometry.Plane {
	return geometry.Plane{Normal: v.Up, Offset: v.Up.Dot(v.Lowest) + height}
}

// turnedOut returns m with every facet the other way round.
func turnedOut(m *geometry.Mesh) geometry.Mesh {
	out := geometry.Mesh{Vertices: m.Vertices, Faces: make([][3]int32, len(m.Faces))}
	for i, f := range m.Faces {
		out.Faces[i] = [3]int32{f[0], f[2], f[1]}
	}
	return out
}

// lidsOf returns facets that close the holes of a shell, for its volume only: a fan about
// the middle of each rim. A closed surface's area vectors sum to zero; where they do, the
// search for holes is left out.
func lidsOf(shell *geometry.Mesh) []geometry.Triangle {
	sum, area := geometry.Vec{}, 0.0
	for i := range shell.Faces {
		a := shell.Triangle(i).AreaVector()
		sum, area = sum.Add(a), area+a.Norm()
	}
	if sum.Norm() <= 1e-9*area {
		return nil
	}
	var lids []geometry.Triangle
	for _, loop := range topology.Loops(topology.Edges(shell)) {
		middle := geometry.Vec{}
		for _, k := range loop.Vertices {
			middle = middle.AddScaled(shell.Vertices[k], 1/float64(len(loop.Vertices)))
		}
		for i, k := range loop.Vertices {
			next := loop.Vertices[(i+1)%len(loop.Vertices)]
			lids = append(lids, geometry.Triangle{A: shell.Vertices[next], B: shell.Vertices[k], C: middle})
		}
	}
	return lids
}
