package mend

import (
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/carve"
	"evenwall/geometry/topology"
)

// solid answers where points lie to a closed surface.
type solid struct {
	mesh    *geometry.Mesh
	tree    *geometry.Tree
	winding *geometry.Winding
}

func newSolid(m *geometry.Mesh) solid {
	tree := geometry.NewTree(m)
	return solid{m, tree, geometry.NewWinding(tree)}
}

// samples is how many points of a piece are asked where they lie.
const samples = 200

// shareOf returns the share of m's facets whose middles lie in the solid, of a fair sample.
func (s *solid) shareOf(m *geometry.Mesh) float64 {
	in, all := 0, 0
	for i := 0; i < len(m.Faces); i += max(1, len(m.Faces)/samples) {
		all++
		if s.winding.At(m.Triangle(i).Centroid()) > 0.5 {
			in++
		}
	}
	return float64(in) / float64(all)
}

// gapTo returns the median distance of m's facets to the solid's surface, m.
func (s *solid) gapTo(m *geometry.Mesh) float64 {
	var gaps []float64
	for i := 0; i < len(m.Faces); i += max(1, len(m.Faces)/samples) {
		_, _, d := s.tree.Closest(m.Triangle(i).Centroid())
		gaps = append(gaps, d)
	}
	slices.Sort(gaps)
	return gaps[len(gaps)/2]
}

// sortSheets keeps the open pieces that lie mostly inside the largest body and drops the
// others as strays.
func (w *work) sortSheets() {
	if len(w.sheets) == 0 {
		return
	}
	main := newSolid(&w.bodies[0])
	var kept []geometry.Mesh
	for _, sheet := range w.sheets {
		if main.shareOf(&sheet) > 0.5 {
			kept = append(kept, sheet)
			continue
		}
		w.report.addStray(&piece{faces: make([]int32, len(sheet.Faces)), area: sheet.Area(), bounds: sheet.Bounds()})
	}
	w.sheets, w.report.Sheets = kept, len(kept)
}

const (
	// thickest is the widest gap between two skins of one wall, m.
	thickest = 0.012
	// skinShare is the least share of the outer skin's volume that the inner one has.
	skinShare = 0.5
	// wholly and partly are the shares of a body's facets in another from which it counts
	// as inside, and up to which it counts as outside.
	wholly, hardly = 0.98, 0.02
)

// sortBodies tells what the closed pieces are to the largest: a second skin, a body inside
// it, one that overlaps it, or one apart.
func (w *work) sortBodies() error {
	w.mesh = w.bodies[0]
	for _, b := range w.bodies[1:] {
		main := newSolid(&w.mesh)
		other := newSolid(&b)
		in := main.shareOf(&b)
		switch {
		case in >= wholly && other.shareOf(&w.mesh) <= hardly:
			w.inner(&main, b)
		case in <= hardly && other.shareOf(&w.mesh) <= hardly:
			w.apart(b)
		default:
			w.overlapping(b)
		}
	}
	return nil
}

// inner takes a body inside the others for the inner skin, or for steel.
func (w *work) inner(main *solid, b geometry.Mesh) {
	if gap := main.gapTo(&b); gap <= thickest && b.Volume() >= skinShare*w.mesh.Volume() {
		w.mesh, w.report.Skins = b, gap
		return
	}
	w.report.Bodies++
	w.mesh = joined(w.mesh, turnedOver(b))
}

// apart keeps a body beside the others when it is a chamber of some size.
func (w *work) apart(b geometry.Mesh) {
	if b.Volume() < 0.05*w.mesh.Volume() {
		w.report.addStray(&piece{area: b.Area(), bounds: b.Bounds()})
		return
	}
	w.report.Apart++
	w.mesh = joined(w.mesh, b)
}

// overlapping joins a body with those it overlaps, exactly if the surfaces cross cleanly.
func (w *work) overlapping(b geometry.Mesh) {
	w.report.Joined++
	if whole, err := carve.Union(&w.mesh, &b); err == nil && topology.FaultsOf(topology.Edges(&whole)) == (topology.Faults{}) {
		w.mesh = whole
		return
	}
	w.mesh = fused(w.mesh, b)
	w.edges = topology.Edges(&w.mesh)
	w.closeSeams()
	w.mesh = w.closed(w.mesh, w.edges)
}

func joined(a, b geometry.Mesh) geometry.Mesh {
	var out geometry.Mesh
	out.Append(a)
	out.Append(b)
	return out
}

// fused is both without the facets of each that lie in the other, for surfaces that
// cannot be cut along the line where they meet: it is open there.
func fused(a, b geometry.Mesh) geometry.Mesh {
	both := [2]*geometry.Mesh{&a, &b}
	var out geometry.Mesh
	for k, m := range both {
		other := newSolid(both[1-k])
		drop := make([]bool, len(m.Faces))
		for i := range m.Faces {
			drop[i] = other.winding.At(m.Triangle(i).Centroid()) > 0.5
		}
		out.Append(compact(geometry.Mesh{Vertices: m.Vertices, Faces: without(m.Faces, drop)}))
	}
	return out
}
