package mend

import (
	"fmt"
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

const (
	// thinShare is the share of a surface's diagonal below which what it encloses is taken
	// for sheet and not for room.
	thinShare = 0.04
	// rimSlack is how far beyond an opening's circle the edge between two skins may run, as
	// a share of the radius.
	rimSlack = 0.05
)

// peel takes the inner skin of a surface that encloses the sheet itself: a wall with its
// thickness, its two skins joined round the openings.
func (w *work) peel() error {
	gap, thin := thickness(&w.mesh)
	if !thin {
		return nil
	}
	outer, inner := w.skins()
	if len(inner.Faces) == 0 {
		return errTwoSkins(gap)
	}
	if inner.Volume() < skinShare*outer.Volume() {
		return errTwoSkins(gap)
	}
	w.mesh, w.report.Skins = inner, gap
	return nil
}

func errTwoSkins(gap float64) error {
	return fmt.Errorf("has two skins about %.1f mm apart, joined where no opening is given: give every opening under openings, with its diameter as measured inside, or export the inner skin alone", 1000*gap)
}

// thickness returns how far the surface is from itself across what it encloses, by the
// median, m, and whether that is so little that it must be sheet.
func thickness(m *geometry.Mesh) (gap float64, thin bool) {
	diagonal := m.Bounds().Size().Norm()
	most := math.Min(thickest, thinShare*diagonal)
	if 2*m.Volume() > most*m.Area() {
		return 0, false
	}
	tree := geometry.NewTree(m)
	var gaps []float64
	for i := 0; i < len(m.Faces); i += max(1, len(m.Faces)/samples) {
		t := m.Triangle(i)
		n := t.Normal()
		from := t.Centroid().AddScaled(n, -1e-6*diagonal)
		nearest := math.Inf(1)
		for _, c := range tree.Crossings(from, n.Scale(-1), nil) {
			nearest = math.Min(nearest, c.At)
		}
		gaps = append(gaps, nearest)
	}
	slices.Sort(gaps)
	gap = gaps[len(gaps)/2]
	return gap, gap <= most
}

// skins cuts the surface at its openings and returns the outer skin and the inner one, each
// closed and turned outward; inner is empty when the cuts do not part them.
func (w *work) skins() (outer, inner geometry.Mesh) {
	rest := w.mesh
	for i := range w.settings.Openings {
		disc := w.settings.Openings[i].Disc
		disc.Radius *= 1 + rimSlack
		disc.Depth = math.Max(disc.Depth, 2*thickest)
		rest, _, _, _ = disc.Cut(&rest)
	}
	edges := topology.Edges(&rest)
	pieces := piecesOf(&rest, edges)
	for i := range pieces {
		if pieces[i].area < 0.2*w.mesh.Area() {
			continue
		}
		part := pieces[i].mesh(&rest)
		part = withoutHoles(part, &w.settings, w.reach)
		if v := part.Volume(); v < 0 && -v > inner.Volume() {
			inner = turnedOver(part)
		} else if v > outer.Volume() {
			outer = part
		}
	}
	return outer, inner
}

// withoutHoles returns m with its holes closed, however it is turned.
func withoutHoles(m geometry.Mesh, s *Settings, reach float64) geometry.Mesh {
	edges := topology.Edges(&m)
	m.Faces = append([][3]int32(nil), m.Faces...)
	for _, h := range holesOf(&m, edges, s, reach) {
		m.Faces = append(m.Faces, h.faces...)
	}
	return m
}
