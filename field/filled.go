package field

import (
	"math"

	"evenwall/geometry"
	"evenwall/geometry/lattice"
	"evenwall/geometry/vessel"
)

// Filled is a tank filled to a level and laid on a lattice: all that stays the same while
// rods move.
type Filled struct {
	Vessel   *vessel.Vessel
	Filling  vessel.Filling
	Liquid   *lattice.Liquid
	Level    float64        // z of the liquid in the lattice's frame, m
	Steel    *Steel         // wetted, in the lattice's frame
	Tree     *geometry.Tree // of Steel.Mesh
	Enclosed *lattice.Surface

	shell, sheets geometry.Mesh
}

// Grid says how a tank is laid on a lattice.
type Grid struct {
	Spacing float64    // m
	Shift   [2]float64 // along x, y in spacings; zero: symmetric about the tank's bounds
}

// DefaultSpacing returns the spacing, m, that figures are computed at unless a job asks
// for another: 3.5 mm, or coarser so that a large vessel keeps to about two million cells.
func DefaultSpacing(volume float64) float64 {
	const cells = 2e6
	return math.Max(3.5e-3, math.Cbrt(volume/cells))
}

// Fill lays the vessel with its filling on a lattice. dry says which points of the
// lattice's frame hold trapped air; nil: none.
func Fill(v *vessel.Vessel, filling vessel.Filling, g Grid, dry func(geometry.Vec) bool) (*Filled, error) {
	f := &Filled{Vessel: v, Filling: filling}
	f.Level = f.Filling.Surface.Offset
	f.shell = turnedMesh(&v.Shell, v.Turn)
	for i := range v.Baffles {
		f.sheets.Append(v.Baffles[i].Transformed(v.Turn.Apply))
	}
	f.Steel = SteelOf(v, &f.Filling.Wetted)
	f.Tree = geometry.NewTree(&f.Steel.Mesh)
	l, err := lattice.New(lattice.Placement{Bounds: f.shell.Bounds(), Level: f.Level, H: g.Spacing, Shift: g.Shift})
	if err != nil {
		return nil, err
	}
	f.Enclosed = lattice.Enclose(l, &f.shell)
	f.Liquid = lattice.Fill(lattice.Filling{Surface: f.Enclosed, Shell: &f.shell, Sheets: &f.sheets,
		Level: f.Level, Skim: v.SkimHeight(), Opening: f.opening(), Dry: dry})
	return f, nil
}

// SteelOf returns some of a vessel's wall in the frame of its lattices.
func SteelOf(v *vessel.Vessel, w *vessel.Wetted) *Steel {
	s := &Steel{Mesh: turnedMesh(&w.Mesh, v.Turn)}
	for _, faces := range w.Faces {
		s.Inner = append(s.Inner, faces&vessel.Inner != 0)
		s.Outer = append(s.Outer, faces&vessel.Outer != 0)
	}
	return s
}

// turnedMesh returns a mesh turned; m itself when there is nothing to turn.
func turnedMesh(m *geometry.Mesh, turn geometry.Rotation) geometry.Mesh {
	if turn == geometry.Identity() {
		return *m
	}
	return m.Transformed(turn.Apply)
}

// opening returns the test for points of the lattice's frame that are opening or plug.
func (f *Filled) opening() func(geometry.Vec) bool {
	back := f.Vessel.Turn.Inverse()
	return func(p geometry.Vec) bool {
		q := back.Apply(p)
		for i := range f.Vessel.Openings {
			if o := &f.Vessel.Openings[i]; o.Use != vessel.Steel && o.Covers(q, o.Diameter/4) {
				return true
			}
		}
		return false
	}
}

// Normal returns the unit normal of a facet as the liquid's wall links number them.
func (f *Filled) Normal(face int32) geometry.Vec {
	if n := int32(len(f.shell.Faces)); face >= n {
		return f.sheets.Triangle(int(face - n)).Normal()
	}
	return f.shell.Triangle(int(face)).Normal()
}

// Recovery returns the weights that turn potentials into wall current.
func (f *Filled) Recovery() *Recovery { return NewRecovery(f.Liquid, f.Steel, f.Tree) }

// Turned returns the rods in the lattice's frame.
func (f *Filled) Turned(r geometry.Rod) geometry.Rod {
	path := make([]geometry.Vec, len(r.Path))
	for i, p := range r.Path {
		path[i] = f.Vessel.Turn.Apply(p)
	}
	r.Path = path
	return r
}
