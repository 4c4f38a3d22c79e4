package plan

import (
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
	"evenwall/render"
)

// Scene returns what every picture of the tank begins with: its steel, wetted, dry or open,
// the rods, the openings with the first rod's own first, and the liquid's plane. There are
// no figures on the wall yet.
func (t *Tank) Scene(anodes []job.Anode) render.Scene { return t.scene(anodes, t.drawn()) }

// scene is Scene with the steel as it is given.
func (t *Tank) scene(anodes []job.Anode, surface render.Surface) render.Scene {
	s := render.Scene{Title: t.Job.Title, Sides: t.sides(), Surface: surface, Openings: t.drawnOpenings(anodes)}
	for i := range anodes {
		s.Rods = append(s.Rods, anodes[i].Rod)
	}
	f := t.Filling.Surface
	s.Liquid = render.Plane{Point: t.Lowest.AddScaled(t.Up, t.Filling.Height), Normal: f.Normal}
	s.Notes.Warnings = t.Warnings
	return s
}

// drawn returns the steel for pictures, cut at the level; a baffle has a facet for each face.
func (t *Tank) drawn() render.Surface {
	var out render.Surface
	addFaces(&out, &t.Filling.Wetted, render.Wetted)
	dry := t.dryWall()
	addFaces(&out, &dry, render.Dry)
	if t.Job.Bath.KeepsAir {
		addFaces(&out, &t.Air.dry, render.Dry)
	}
	t.addHoles(&out)
	return out
}

// addHoles adds what stands in the openings.
func (t *Tank) addHoles(to *render.Surface) {
	for i := range t.Openings {
		state := render.Open
		if t.Openings[i].Use == vessel.Plugged {
			state = render.Insulated
		}
		hole := t.hole(int32(i))
		addFaces(to, &hole, state)
	}
}

// dryWall returns the wall above the level, without what counts as wetted at it.
func (t *Tank) dryWall() vessel.Wetted {
	surface := t.Filling.Surface
	dry, from := t.Wall.Mesh.Below(surface.Flipped(), geometry.Slack{})
	out := vessel.Wetted{Mesh: geometry.Mesh{Vertices: dry.Vertices}}
	for i, f := range dry.Faces {
		tri := dry.Triangle(i)
		if max(surface.Height(tri.A), surface.Height(tri.B), surface.Height(tri.C)) > t.SkimHeight() {
			kind := t.Wall.Kind[from[i]]
			out.Mesh.Faces = append(out.Mesh.Faces, f)
			out.Kind, out.Faces = append(out.Kind, kind), append(out.Faces, kind.Faces())
		}
	}
	return out
}

// hole returns the surface that stands in opening i.
func (t *Tank) hole(i int32) vessel.Wetted {
	out := vessel.Wetted{Mesh: geometry.Mesh{Vertices: t.Wall.Hole.Vertices}}
	for k, f := range t.Wall.Hole.Faces {
		if t.Wall.Opening[k] == i {
			out.Mesh.Faces = append(out.Mesh.Faces, f)
			out.Kind, out.Faces = append(out.Kind, vessel.Shell), append(out.Faces, vessel.Inner)
		}
	}
	return out
}

// addFaces adds facets of one state, once for each of the faces that count.
func addFaces(to *render.Surface, w *vessel.Wetted, state render.State) {
	m := geometry.Mesh{Vertices: w.Mesh.Vertices}
	add := func(f [3]int32, kind vessel.Kind) {
		m.Faces = append(m.Faces, f)
		to.Sheet = append(to.Sheet, kind == vessel.Baffle)
		to.State = append(to.State, state)
	}
	for i, f := range w.Mesh.Faces {
		if w.Faces[i]&vessel.Inner != 0 {
			add(f, w.Kind[i])
		}
		if w.Faces[i]&vessel.Outer != 0 {
			add([3]int32{f[0], f[2], f[1]}, w.Kind[i])
		}
	}
	to.Mesh.Append(m)
}

// drawnOpenings returns the openings, the one that the first rod hangs in first: pictures
// measure places from it.
func (t *Tank) drawnOpenings(anodes []job.Anode) []render.Opening {
	var out []render.Opening
	for _, o := range t.Openings {
		shown := render.Opening{Name: o.Name, Centre: o.Centre, Axis: o.Axis, Diameter: o.Diameter}
		if len(anodes) > 0 && o.Name == anodes[0].Through {
			out = append([]render.Opening{shown}, out...)
		} else {
			out = append(out, shown)
		}
	}
	return out
}
