package plan

import (
	"math"
	"slices"

	"evenwall/render"
)

// neverPaint is the wetted wall that no layout reaches, to be drawn.
type neverPaint struct {
	patches framed
	pieces  []piece
	piece   []int // of each patch its piece, plus 1; 0: none that is named
}

func (h *hunt) paintOf(n *never) *neverPaint {
	out := &neverPaint{patches: h.judged(), pieces: n.wet}
	out.piece = make([]int, len(out.patches.All))
	for k := range n.wet {
		for _, i := range n.wet[k].patches {
			out.piece[i] = k + 1
		}
	}
	return out
}

// hatched returns the patches of a wall that are hatched: what no layout reaches, as far as that
// was looked for, and of the rest what the solved rods reach least.
func (s *Solved) hatched(scene *render.Scene) []render.Patch {
	rest, from := scene.Surface, scene.Openings[0].Centre
	var out []render.Patch
	if s.never != nil {
		rest.Value = slices.Clone(rest.Value)
		out = s.neverPatches(scene)
		for _, p := range out {
			for _, f := range p.Faces {
				rest.Value[f] = math.NaN()
			}
		}
	}
	for _, p := range render.LeastReached(rest, render.PatchSettings{Below: s.Basin.Job.Aim.Least, From: from, Sides: scene.Sides}) {
		p.Number = len(out) + 1
		out = append(out, p)
	}
	return out
}

// neverPatches returns the facets of each piece that no layout reaches.
func (s *Solved) neverPatches(scene *render.Scene) []render.Patch {
	n, turn, surface := s.never, s.never.patches.back.Inverse(), &scene.Surface
	out := make([]render.Patch, len(n.pieces))
	for k, p := range n.pieces {
		out[k] = render.Patch{Number: k + 1, Area: p.area, Point: p.at, Words: render.Whereabout(scene.Sides, scene.Openings[0].Centre, p.at), Never: true}
	}
	finder := n.patches.Finder()
	for f := range surface.Mesh.Faces {
		if surface.State[f] != render.Wetted {
			continue
		}
		t := surface.Mesh.Triangle(f)
		if i, ok := finder.Nearest(turn.Apply(t.Centroid()), turn.Apply(t.Normal())); ok && n.piece[i] > 0 {
			p := &out[n.piece[i]-1]
			p.Faces = append(p.Faces, f)
		}
	}
	return out
}
