package plan

import (
	"context"

	"evenwall/field"
	"evenwall/field/search"
	"evenwall/geometry"
	"evenwall/geometry/vessel"
	"evenwall/render"
)

// commonWall is all wall of a tank in patches of its own frame that are the same in each of several
// attitudes: a patch is wholly wetted or wholly dry in each. Bit k of its class says whether it is wetted in attitude k.
type commonWall struct {
	*field.Patches
	first *Tank // in the first attitude
	steel *field.Steel
	kind  []vessel.Kind // of each facet of steel
}

// mostAttitudes is how many attitudes a class has bits for.
const mostAttitudes = 8

// newCommonWall cuts the wall where the liquid stands in each of a tank's attitudes, into patches
// for lattices of spacing h, m.
func newCommonWall(propped []*Tank, h float64) *commonWall {
	w := &propped[0].Wall
	s, welded := &field.Steel{}, map[geometry.Vec]int32{}
	var kind []vessel.Kind
	corner := func(v geometry.Vec) int32 {
		k, ok := welded[v]
		if !ok {
			k = int32(len(s.Mesh.Vertices))
			welded[v] = k
			s.Mesh.Vertices = append(s.Mesh.Vertices, v)
		}
		return k
	}
	for i := range w.Mesh.Faces {
		parts := []geometry.Triangle{w.Mesh.Triangle(i)}
		for _, t := range propped {
			parts = t.cutAtLevel(parts)
			if t.Job.Bath.KeepsAir && len(t.Air.Pockets) > 0 {
				parts = cutSmall(parts, h/2)
			}
		}
		faces := w.Kind[i].Faces()
		for _, part := range parts {
			s.Mesh.Faces = append(s.Mesh.Faces, [3]int32{corner(part.A), corner(part.B), corner(part.C)})
			kind = append(kind, w.Kind[i])
			s.Inner, s.Outer = append(s.Inner, faces&vessel.Inner != 0), append(s.Outer, faces&vessel.Outer != 0)
			s.InnerClass = append(s.InnerClass, classIn(propped, part, -1))
			s.OuterClass = append(s.OuterClass, classIn(propped, part, 1))
		}
	}
	return &commonWall{field.NewPatches(s, h), propped[0], s, kind}
}

// cutAtLevel cuts facets where the liquid stands.
func (t *Tank) cutAtLevel(facets []geometry.Triangle) []geometry.Triangle {
	surface := t.Filling.Surface
	var out []geometry.Triangle
	for _, f := range facets {
		low := min(surface.Height(f.A), surface.Height(f.B), surface.Height(f.C))
		high := max(surface.Height(f.A), surface.Height(f.B), surface.Height(f.C))
		if high <= t.SkimHeight() || low >= 0 {
			out = append(out, f)
			continue
		}
		below, n := f.Below(surface)
		out = append(out, below[:n]...)
		above, n := f.Below(surface.Flipped())
		out = append(out, above[:n]...)
	}
	return out
}

func cutSmall(facets []geometry.Triangle, limit float64) []geometry.Triangle {
	var out []geometry.Triangle
	for _, f := range facets {
		f.Split(limit, func(part geometry.Triangle) { out = append(out, part) })
	}
	return out
}

// classIn returns in which attitudes one face of a part of a facet is wetted: the face that its normal
// points to for side 1, the other for -1.
func classIn(propped []*Tank, part geometry.Triangle, side float64) uint8 {
	class := uint8(0)
	at := part.Centroid().AddScaled(part.Normal(), side*offWall)
	for k, t := range propped {
		surface := t.Filling.Surface
		high := max(surface.Height(part.A), surface.Height(part.B), surface.Height(part.C))
		if wet := surface.Height(part.Centroid()) <= 0 || high <= t.SkimHeight(); wet && !(t.Job.Bath.KeepsAir && t.aired(at)) {
			class |= 1 << k
		}
	}
	return class
}

// drawn returns the wall for pictures: wetted is what is wet in any of the attitudes.
func (w *commonWall) drawn() render.Surface {
	wet, dry := vessel.Wetted{Mesh: geometry.Mesh{Vertices: w.steel.Mesh.Vertices}}, vessel.Wetted{Mesh: geometry.Mesh{Vertices: w.steel.Mesh.Vertices}}
	add := func(to *vessel.Wetted, i int, faces vessel.Faces) {
		if faces != 0 {
			to.Mesh.Faces = append(to.Mesh.Faces, w.steel.Mesh.Faces[i])
			to.Kind, to.Faces = append(to.Kind, w.kind[i]), append(to.Faces, faces)
		}
	}
	for i := range w.steel.Mesh.Faces {
		var of [2]vessel.Faces // dry, wet
		for _, side := range []struct {
			there bool
			class uint8
			face  vessel.Faces
		}{{w.steel.Inner[i], w.steel.InnerClass[i], vessel.Inner}, {w.steel.Outer[i], w.steel.OuterClass[i], vessel.Outer}} {
			if side.there {
				of[min(side.class, 1)] |= side.face
			}
		}
		add(&dry, i, of[0])
		add(&wet, i, of[1])
	}
	var out render.Surface
	addFaces(&out, &wet, render.Wetted)
	addFaces(&out, &dry, render.Dry)
	w.first.addHoles(&out)
	return out
}

// wetFinder returns a finder of patches that are wetted in any of the attitudes.
func (w *commonWall) wetFinder() *field.Finder {
	f := w.Finder()
	f.Only = func(i int32) bool { return w.Class(int(i)) != 0 }
	return f
}

// wettedIn reports whether patch i is wetted in attitude k.
func (w *commonWall) wettedIn(i, k int) bool { return w.Class(i)&(1<<k) != 0 }

// areas returns the area of each patch, m².
func (w *commonWall) areas() []float64 {
	out := make([]float64, len(w.All))
	for i, p := range w.All {
		out[i] = p.Area
	}
	return out
}

// areaWhere returns the area of the patches that are in, m².
func (w *commonWall) areaWhere(in func(i int) bool) float64 {
	sum := 0.0
	for i, p := range w.All {
		if in(i) {
			sum += p.Area
		}
	}
	return sum
}

// onWall leads from the patches of a basin in attitude k to those of the common wall.
type onWall struct {
	size int       // of the common wall
	to   []int32   // of each patch of the basin the common one that it lies in; -1: none
	area []float64 // of each patch of the basin, m²
	near []int32   // of each common patch that none lies in, and that is wetted, the basin's nearest; -1: none
}

// from returns the way from a basin in attitude k to the wall.
func (w *commonWall) from(b *Basin, k int) *onWall {
	own, turn := b.Recovery().Patches, b.Turn
	back := turn.Inverse()
	m := &onWall{size: len(w.All), to: make([]int32, len(own.All)), near: make([]int32, len(w.All)), area: b.areas()}
	finder := w.Finder()
	finder.Only = func(i int32) bool { return w.wettedIn(int(i), k) }
	taken := make([]bool, len(w.All))
	for i, p := range own.All {
		n, ok := finder.Nearest(back.Apply(p.Centre), back.Apply(p.Normal))
		if m.to[i] = n; ok {
			taken[n] = true
		}
	}
	mine := own.Finder()
	for i, p := range w.All {
		m.near[i] = -1
		if !taken[i] && w.wettedIn(i, k) && b.Filling.Surface.Height(p.Centre) <= b.SkimHeight() {
			m.near[i], _ = mine.Nearest(turn.Apply(p.Centre), turn.Apply(p.Normal))
		}
	}
	return m
}

// spread returns what the common patches get from what the basin's do, A/m²: the mean over those
// that lie in each, or that of the nearest; nothing where it is dry.
func (m *onWall) spread(density []float64) []float64 {
	out, area := make([]float64, m.size), make([]float64, m.size)
	for i, n := range m.to {
		if n >= 0 {
			out[n] += density[i] * m.area[i]
			area[n] += m.area[i]
		}
	}
	for n := range out {
		switch {
		case area[n] > 0:
			out[n] /= area[n]
		case m.near[n] >= 0:
			out[n] = density[m.near[n]]
		}
	}
	return out
}

// spreading is a search.Evaluator that answers for the common wall.
type spreading struct {
	search.Evaluator
	way *onWall
}

// Evaluate implements search.Evaluator.
func (s *spreading) Evaluate(ctx context.Context, rods []geometry.Rod) (search.Exposure, error) {
	e, err := s.Evaluator.Evaluate(ctx, rods)
	if err == nil {
		e.Rate = s.way.spread(e.Rate)
	}
	return e, err
}
