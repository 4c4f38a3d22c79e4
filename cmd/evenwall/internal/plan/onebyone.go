package plan

import (
	"fmt"
	"math"
	"path/filepath"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/geometry/shape"
	"evenwall/geometry/vessel"
)

// target is one thing of steel that a rod may come near.
type target struct {
	name string
	tree *geometry.Tree
}

// targets returns the wall, each inner sheet and the rim of each opening.
func (t *Tank) targets() []target {
	if len(t.Baffles) == 0 {
		return append([]target{{t.sheetName(-1), t.Steel()}}, t.rims()...)
	}
	parts := make([]geometry.Mesh, 1+len(t.Baffles))
	for i, f := range t.Wall.Mesh.Faces {
		m := &parts[t.Wall.Sheet[i]+1]
		m.Faces = append(m.Faces, f)
	}
	var out []target
	for i := range parts {
		parts[i].Vertices = t.Wall.Mesh.Vertices
		if len(parts[i].Faces) > 0 {
			out = append(out, target{t.sheetName(i - 1), t.withRims(&parts[i])})
		}
	}
	return append(out, t.rims()...)
}

// rims returns the rims of the openings.
func (t *Tank) rims() []target {
	var out []target
	for i := range t.Openings {
		if o := &t.Openings[i]; o.Use != vessel.Steel {
			m := rimMesh(o)
			out = append(out, target{"the rim of the " + o.Name, geometry.NewTree(&m)})
		}
	}
	return out
}

// sheetName returns what inner sheet i is called; the shell is -1.
func (t *Tank) sheetName(i int) string {
	files := len(t.Baffles) - len(t.Job.Tank.Sheets)
	switch {
	case i < 0:
		return "the wall"
	case i < files && i < len(t.Job.Tank.Baffles):
		return filepath.Base(t.Job.Tank.Baffles[i])
	case i >= files && i-files < len(t.Job.Tank.Sheets):
		if _, isSpout := t.Job.Tank.Sheets[i-files].(shape.Spout); isSpout {
			return fmt.Sprintf("the spout (sheet %d)", i+1)
		}
		return fmt.Sprintf("the plate (sheet %d)", i+1)
	}
	return fmt.Sprintf("sheet %d", i+1)
}

// rimMesh returns the circle of an opening as a ring too narrow to measure.
func rimMesh(o *vessel.Opening) geometry.Mesh {
	const around, width = 720, 1e-6 // width in m
	u, v := o.Axis.Perpendicular()
	var m geometry.Mesh
	for i := range int32(around) {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / around)
		out := u.Scale(cos).AddScaled(v, sin)
		m.Vertices = append(m.Vertices, o.Centre.AddScaled(out, o.Diameter/2), o.Centre.AddScaled(out, o.Diameter/2+width))
		next := (i + 1) % around
		m.Faces = append(m.Faces, [3]int32{2 * i, 2*i + 1, 2*next + 1}, [3]int32{2 * i, 2*next + 1, 2 * next})
	}
	return m
}

// oneByOne returns how near each rod comes to each thing.
func (t *Tank) oneByOne(anodes []job.Anode) []report.Gap {
	var out []report.Gap
	targets := t.targets()
	for i := range anodes {
		a := &anodes[i]
		hold, play := t.holdOf(a), t.playOf(a)
		worst := func(d float64) *float64 {
			if play.IsZero() || math.IsInf(d, 0) {
				return nil
			}
			d *= 1000
			return &d
		}
		for _, to := range targets {
			g := geometry.BareClearance(&a.Rod, to.tree, nil)
			w := geometry.WorstClearance(&a.Rod, to.tree, hold, play).Distance
			out = append(out, report.Gap{Anode: a.Name, Part: "bare metal", To: to.name, MM: 1000 * g.Distance, WorstMM: worst(w)})
		}
		if a.Sleeve > a.Radius {
			all := geometry.Span{From: 0, To: a.Length()}
			g := geometry.OutsideClearance(&a.Rod, t.Steel(), all)
			w := geometry.WorstOutside(&a.Rod, t.Steel(), all, hold, play).Distance
			out = append(out, report.Gap{Anode: a.Name, Part: "sleeve or metal", To: "any steel", MM: 1000 * g.Distance, WorstMM: worst(w)})
		}
		if g := geometry.AroundClearance(&a.Rod, t.Steel(), hold.S); !math.IsInf(g.Distance, 0) {
			out = append(out, report.Gap{Anode: a.Name, Part: "spacers and guard", To: "any steel", MM: 1000 * g.Distance})
		}
		for k := range anodes[:i] {
			b := &anodes[k]
			g := geometry.RodGap(&b.Rod, &a.Rod)
			w := geometry.WorstRodGap(&b.Rod, &a.Rod, t.holdOf(b), hold, play).Distance
			out = append(out, report.Gap{Anode: b.Name, Part: "bare metal", To: "rod " + a.Name, MM: 1000 * g.Distance, WorstMM: worst(w)})
		}
	}
	return out
}
