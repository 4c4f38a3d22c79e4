package mend

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// Mended is a tank's inside skin made sound.
type Mended struct {
	Shell  geometry.Mesh   // closed and turned outward; openings are closed by flat patches
	Open   geometry.Mesh   // the same before its holes were closed: where rims can be looked for
	Sheets []geometry.Mesh // inner sheets that the surface held
	Report Report
}

// Shell mends a tank's surface. The error is a *GuessError where a hole is so large that
// the inside is a guess, and otherwise says what the surface lacks. m is not changed.
func Shell(m geometry.Mesh, s Settings) (Mended, error) {
	w := work{mesh: m, settings: s, reach: reachOf(&m)}
	if s.Sound {
		w.take()
	} else {
		w.edges = topology.Edges(&m)
		w.gather()
		if err := w.close(); err != nil {
			return Mended{}, err
		}
	}
	if err := w.sortBodies(); err != nil {
		return Mended{}, err
	}
	if err := w.peel(); err != nil {
		return Mended{}, err
	}
	if !(w.volume() > 0) {
		return Mended{}, errors.New("encloses no volume: it is flat, or in pieces that do not fit; export it again as one closed surface")
	}
	if err := w.trust(); err != nil {
		return Mended{}, err
	}
	if s.Skin == Outside {
		w.takeOffSheet()
	}
	return Mended{Shell: w.mesh, Open: w.open, Sheets: w.sheets, Report: w.report}, nil
}

// work is a surface in the making.
type work struct {
	settings Settings
	reach    float64 // widest crack, m
	mesh     geometry.Mesh
	edges    []topology.Edge
	open     geometry.Mesh
	bodies   []geometry.Mesh // closed pieces, turned outward, the largest first
	sheets   []geometry.Mesh
	report   Report
}

// take takes the surface as it is, turned outward.
func (w *work) take() {
	w.open = w.mesh
	w.bodies = []geometry.Mesh{w.closed(w.mesh, nil)}
}

// gather makes of the facets as few pieces as there are: doubled facets out, cracks
// joined, flaps and stray pieces out, facets turned alike.
func (w *work) gather() {
	faults := topology.FaultsOf(w.edges)
	if faults.Open > 0 {
		if n := dropDoubled(&w.mesh, w.edges, w.reach); n > 0 {
			w.report.Doubled = n
			w.edges = topology.Edges(&w.mesh)
		}
		for range teeRounds {
			w.splitAtTees()
		}
		var joined cracks
		joined, w.edges = joinCracks(&w.mesh, w.edges, w.reach)
		w.report.Cracks, w.report.Widest, w.report.WidestAt = joined.sides, joined.widest, joined.most
		w.dropTwins()
	}
	if topology.FaultsOf(w.edges).Crowded > 0 {
		w.dropFlaps()
	}
	w.report.Turned, w.edges = turnAlike(&w.mesh, w.edges)
	w.cutSpots()
}

// dropTwins drops facets that joining cracks has put on the same three corners.
func (w *work) dropTwins() {
	type corners [3]int32
	seen := make(map[corners]bool, len(w.mesh.Faces))
	drop, dropped := make([]bool, len(w.mesh.Faces)), 0
	for i, f := range w.mesh.Faces {
		low, high := min(f[0], f[1], f[2]), max(f[0], f[1], f[2])
		k := corners{low, f[0] + f[1] + f[2] - low - high, high}
		if seen[k] {
			drop[i] = true
			dropped++
		}
		seen[k] = true
	}
	if dropped == 0 {
		return
	}
	w.report.Doubled += dropped
	w.mesh.Faces = without(w.mesh.Faces, drop)
	w.edges = topology.Edges(&w.mesh)
}

// strayShare is the share of all area below which an open piece is a stray.
const strayShare = 0.005

// close drops stray pieces, closes the holes of the largest piece, tells what the other
// open ones are, and leaves every closed piece turned outward in bodies.
func (w *work) close() error {
	pieces := piecesOf(&w.mesh, w.edges)
	if len(pieces) > 1 {
		w.dropStrays(pieces)
	}
	if topology.FaultsOf(w.edges).Open > 0 {
		w.closeSeams()
		pieces = piecesOf(&w.mesh, w.edges)
	}
	if len(pieces) == 0 {
		return errors.New("has no facets that hang together: export it again")
	}
	w.takeSpouts()
	if len(pieces) == 1 {
		w.open = w.mesh
		w.bodies = []geometry.Mesh{w.closed(w.mesh, w.edges)}
		w.sortSheets()
		return nil
	}
	pieces = piecesOf(&w.mesh, w.edges)
	if len(pieces) > mostPieces {
		return fmt.Errorf("is in %d loose pieces: export it again as one surface", len(pieces))
	}
	main := largest(pieces)
	for i := range pieces {
		part := pieces[i].mesh(&w.mesh)
		if !pieces[i].closed && (w.isFlat(part) || i != main && w.isPipe(part)) {
			w.sheets = append(w.sheets, part)
			continue
		}
		w.open.Append(part)
		w.bodies = append(w.bodies, w.closed(part, topology.Edges(&part)))
	}
	if len(w.bodies) == 0 {
		return errors.New("encloses no volume: every piece of it is open and flat; export it again as one closed surface")
	}
	slices.SortStableFunc(w.bodies, func(a, b geometry.Mesh) int { return cmp.Compare(b.Volume(), a.Volume()) })
	w.sortSheets()
	return nil
}

// flat is the share of a ball's volume with the same area below which an open piece, once
// closed, is a sheet and no vessel.
const flat = 0.02

// isFlat reports whether an open piece is a sheet.
func (w *work) isFlat(m geometry.Mesh) bool {
	m = withoutHoles(m, &w.settings, w.reach)
	volume, area := m.Volume(), m.Area()
	return 36*math.Pi*volume*volume < flat*flat*area*area*area
}

// ends is the share of an open piece's own area that its large holes have, from which it is a
// pipe or a cup and no body that lacks a piece.
const ends = 0.1

// isPipe reports whether an open piece is a pipe or a cup of sheet: holes of some size that
// are no opening, as wide as befits an end of it.
func (w *work) isPipe(m geometry.Mesh) bool {
	open := 0.0
	for _, h := range holesOf(&m, topology.Edges(&m), &w.settings, w.reach) {
		if h.Kind == Closed && h.Across >= smallHole {
			open += h.Area
		}
	}
	return open > ends*m.Area()
}

// mostPieces is how many loose pieces of some size a surface may be in.
const mostPieces = 64

func (w *work) dropStrays(pieces []piece) {
	total := 0.0
	for i := range pieces {
		total += pieces[i].area
	}
	main := largest(pieces)
	w.mesh = keep(&w.mesh, pieces, func(i int) bool {
		p := &pieces[i]
		size := p.bounds.Size().Norm()
		if i == main || size >= smallHole && (p.closed || p.area >= strayShare*total) {
			return true
		}
		w.report.addStray(p)
		return false
	})
	w.edges = topology.Edges(&w.mesh)
}

// closeRounds is how often holes are looked for: a boundary that touches itself can leave
// one, and the patches of two holes can get in each other's way.
const closeRounds = 5

// closed returns a piece with its holes closed, turned outward by its volume.
func (w *work) closed(m geometry.Mesh, edges []topology.Edge) geometry.Mesh {
	if topology.FaultsOf(edges) != (topology.Faults{}) {
		m.Faces = slices.Clone(m.Faces)
	}
	for round := range closeRounds {
		if topology.FaultsOf(edges) == (topology.Faults{}) {
			break
		}
		for _, h := range holesOf(&m, edges, &w.settings, w.reach) {
			m.Faces = append(m.Faces, h.faces...)
			w.report.Holes = append(w.report.Holes, h.Hole)
		}
		edges = topology.Edges(&m)
		if round+1 < closeRounds && cutSpots(&m, edges, w.reach) > 0 {
			edges = topology.Edges(&m)
		}
	}
	if m.Volume() < 0 {
		m = turnedOver(m)
		w.report.InsideOut++
	}
	return m
}

func turnedOver(m geometry.Mesh) geometry.Mesh {
	out := geometry.Mesh{Vertices: m.Vertices, Faces: make([][3]int32, len(m.Faces))}
	for i, f := range m.Faces {
		out.Faces[i] = [3]int32{f[0], f[2], f[1]}
	}
	return out
}

func (w *work) volume() float64 { return w.mesh.Volume() }
