package plan

import (
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/paper"
	"evenwall/geometry"
)

// outline returns the lines of the tank for the sheet: its steel cut along and across through
// the opening that the first rod hangs in.
func (t *Tank) outline(anodes []job.Anode) paper.Outline {
	at := t.Shell.Bounds().Centre()
	if len(anodes) > 0 {
		if o := t.opening(anodes[0].Through); o != nil {
			at = o.Centre
		}
	}
	out := paper.Outline{Bounds: t.Shell.Bounds(), Surface: t.Filling.Surface, Height: t.Filling.Height, Cut: at}
	out.Along = cutLines(&t.Wall.Mesh, geometry.PlaneThrough(at, t.sides().Left()))
	out.Across = cutLines(&t.Wall.Mesh, geometry.PlaneThrough(at, t.sides().Front()))
	if len(anodes) > 0 {
		tip := anodes[0].Path[0]
		out.AtTip[0] = cutLines(&t.Wall.Mesh, geometry.PlaneThrough(tip, t.sides().Left()))
		out.AtTip[1] = cutLines(&t.Wall.Mesh, geometry.PlaneThrough(tip, t.sides().Front()))
	}
	for _, o := range t.Job.Tank.Openings {
		out.Openings = append(out.Openings, paper.Opening{Name: o.Name, Centre: o.Centre, Axis: o.Axis, Diameter: o.Diameter, Twelve: o.Twelve})
	}
	return out
}

// cutLines returns where a plane cuts the facets of a mesh.
func cutLines(m *geometry.Mesh, plane geometry.Plane) [][2]geometry.Vec {
	var out [][2]geometry.Vec
	for i := range m.Faces {
		t := m.Triangle(i)
		corners := [3]geometry.Vec{t.A, t.B, t.C}
		var ends []geometry.Vec
		for k, a := range corners {
			b := corners[(k+1)%3]
			ha, hb := plane.Height(a), plane.Height(b)
			if (ha < 0) != (hb < 0) {
				ends = append(ends, a.Lerp(b, ha/(ha-hb)))
			}
		}
		if len(ends) == 2 {
			out = append(out, [2]geometry.Vec{ends[0], ends[1]})
		}
	}
	return out
}
