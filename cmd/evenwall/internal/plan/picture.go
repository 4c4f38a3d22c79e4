package plan

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"evenwall/cmd/evenwall/internal/report"
	"evenwall/field"
	"evenwall/geometry"
	"evenwall/render"
)

// fieldNote is what the pictures say of the field's own error.
const fieldNote = "current per patch within about 1.5 % of finite elements on three reference tanks; the tank's shape and the bath's conductivity come on top"

// pictures draws the wall, a section through the first rod, and the tightest gap.
func (s *Solved) pictures(c *Gaps, warnings []string) ([]report.Picture, error) {
	t := s.Basin.Tank
	scene := t.Scene(s.Anodes)
	scene.Surface = s.painted(scene.Surface)
	scene.Least = t.Job.Aim.Least
	scene.Scale = render.ScaleFor(scene.Surface)
	scene.Notes = render.Notes{Field: fieldNote, Warnings: warnings}
	if len(scene.Openings) > 0 {
		scene.Patches = s.hatched(&scene)
	}
	return together(
		func() (report.Picture, error) {
			image, err := render.Wall(scene, render.Settings{})
			if err != nil {
				return report.Picture{}, fmt.Errorf("the picture of the wall: %w", err)
			}
			return report.Picture{Name: "wall.png", Image: image}, nil
		},
		func() (report.Picture, error) { return s.section(scene) },
		func() (report.Picture, error) { return t.clearancePicture(s.Anodes, c) },
	)
}

// together draws pictures side by side and returns them in order.
func together(draw ...func() (report.Picture, error)) ([]report.Picture, error) {
	pictures, errs := make([]report.Picture, len(draw)), make([]error, len(draw))
	var all sync.WaitGroup
	for i := range draw {
		all.Go(func() { pictures[i], errs[i] = draw[i]() })
	}
	all.Wait()
	return pictures, errors.Join(errs...)
}

// section draws the upright plane through the first rod.
func (s *Solved) section(scene render.Scene) (report.Picture, error) {
	probe, turn := s.Probe(), s.Basin.Turn
	image, err := render.Section(render.SectionScene{
		Scene: scene, Cut: render.CutThrough(&scene.Rods[0], scene.Openings[0], scene.Sides),
		Potential: func(p geometry.Vec) (float64, bool) { return probe.At(turn.Apply(p)) },
	}, render.Settings{})
	if err != nil {
		return report.Picture{}, fmt.Errorf("the picture of the section: %w", err)
	}
	return report.Picture{Name: "section.png", Image: image}, nil
}

// painted returns the surface cut into facets of about a patch's size, each wetted one with
// the current density of the patch that it lies in.
func (s *Solved) painted(from render.Surface) render.Surface {
	return paintedBy(from, s.Basin.Recovery().Patches.Finder, s.Density, s.Basin.Turn, 2.5*s.Basin.Laid.Liquid.Lattice.H)
}

// paintedBy cuts the wetted facets of a surface to a size, m, and gives each the density of
// the patch that it lies in; turn leads from the surface's frame to the patches'.
func paintedBy(from render.Surface, find func() *field.Finder, density []float64, turn geometry.Rotation, limit float64) render.Surface {
	var out render.Surface
	var normals []geometry.Vec                          // of the facets that were cut
	var whole []int32                                   // of each of their pieces the facet
	out.Mesh.Vertices = slices.Clip(from.Mesh.Vertices) // shared: cutting appends to a copy
	same, index := joined(&from), map[geometry.Vec]int32{}
	corner := func(v geometry.Vec, old []int32) int32 {
		for _, k := range old {
			if from.Mesh.Vertices[k] == v {
				return same[k]
			}
		}
		i, ok := index[v]
		if !ok {
			i = int32(len(out.Mesh.Vertices))
			index[v] = i
			out.Mesh.Vertices = append(out.Mesh.Vertices, v)
		}
		return i
	}
	for i := range from.Mesh.Faces {
		facet, old := from.Mesh.Triangle(i), from.Mesh.Faces[i][:]
		size := limit
		if from.State[i] != render.Wetted {
			size = math.Inf(1)
		}
		normals = append(normals, turn.Apply(facet.Normal()))
		facet.Split(size, func(f geometry.Triangle) {
			out.Mesh.Faces = append(out.Mesh.Faces, [3]int32{corner(f.A, old), corner(f.B, old), corner(f.C, old)})
			out.State = append(out.State, from.State[i])
			out.Sheet = append(out.Sheet, from.Sheet[i])
			whole = append(whole, int32(i))
		})
	}
	out.Value = make([]float64, len(whole))
	inBlocks(len(whole), func(first, last int) {
		finder := find()
		for i := first; i < last; i++ {
			out.Value[i] = math.NaN()
			if out.State[i] != render.Wetted {
				continue
			}
			if p, ok := finder.Nearest(turn.Apply(out.Mesh.Triangle(i).Centroid()), normals[whole[i]]); ok {
				out.Value[i] = density[p]
			}
		}
	})
	return out
}

// inBlocks calls work over the cores for stretches that together are 0 … n-1: first and one
// past the last.
func inBlocks(n int, work func(first, last int)) {
	const block = 4096
	var all sync.WaitGroup
	for first := 0; first < n; first += block {
		all.Go(func() { work(first, min(n, first+block)) })
	}
	all.Wait()
}

// joined returns for each corner of a surface the one that stands for it: where facets of
// different state meet, the corners of both are one.
func joined(s *render.Surface) []int32 {
	at := map[geometry.Vec]int32{}
	for i, f := range s.Mesh.Faces {
		if s.State[i] == render.Wetted {
			continue
		}
		for _, k := range f {
			if _, ok := at[s.Mesh.Vertices[k]]; !ok {
				at[s.Mesh.Vertices[k]] = k
			}
		}
	}
	out := make([]int32, len(s.Mesh.Vertices))
	for k, v := range s.Mesh.Vertices {
		out[k] = int32(k)
		if first, ok := at[v]; ok {
			out[k] = first
		}
	}
	return out
}
