package vessel

import (
	"math"

	"evenwall/geometry"
)

// Raster is Cells that can also say which of them a point lies in.
type Raster interface {
	Cells
	CellAt(p geometry.Vec) (cell int32, ok bool) // p in the propped frame; false outside the inside
}

// PocketWall is what a pocket of air means for the wall, from the facets themselves.
type PocketWall struct {
	Area   float64      // of wall below the level that it keeps dry, both faces of baffles counted, m²
	Volume float64      // m³: from the facets when the pocket lies below the level and has a surface, otherwise by cells
	Top    geometry.Vec // its highest point of wall, in the tank's frame
}

// DryUnder parts the wall under the level into what stays wet and what the pockets keep dry.
// Facets near a pocket are divided to the size of a cell, cut at the pocket's surface, and
// counted to it when the first cell off their face belongs to it. The slices follow
// f.Wetted's order and air.Pockets.
func (v *Vessel) DryUnder(f *Filling, air *Air, raster Raster, size float64) (wet, dry Wetted, walls []PocketWall) {
	d := drying{vessel: v, filling: f, air: air, raster: raster, size: size}
	d.begin()
	for i, kind := range f.Wetted.Kind {
		d.kind, d.source, d.faces = kind, f.Wetted.Source[i], f.Wetted.Faces[i]
		if t := f.Wetted.Mesh.Triangle(i); d.isNear(t) {
			d.divide(t)
		} else {
			d.keep(f.Wetted.Mesh.Faces[i])
		}
	}
	d.holes()
	d.dry.Mesh.Vertices = d.out.Mesh.Vertices
	for k := range d.walls {
		p, top := &air.Pockets[k], d.boxes[k].Max.Z
		roofless := top > f.Surface.Offset-size && math.Abs(d.walls[k].Volume-p.Volume) > 0.2*p.Volume // its roof is above the level by a hair
		if p.Cause != Trapped || top > f.Surface.Offset || roofless {
			d.walls[k].Volume = p.Volume
		}
	}
	return d.out, d.dry, d.walls
}

// drying is DryUnder at work; kind, source and faces are those of the facet in hand.
type drying struct {
	vessel  *Vessel
	filling *Filling
	air     *Air
	raster  Raster
	size    float64
	boxes   []geometry.Box // of each pocket's cells, propped frame
	walls   []PocketWall
	out     Wetted
	dry     Wetted // has out's vertices
	welded  map[geometry.Vec]int32
	kind    Kind
	source  int32
	faces   Faces
	isHole  bool
}

func (d *drying) begin() {
	d.out.Mesh.Vertices = append([]geometry.Vec(nil), d.filling.Wetted.Mesh.Vertices...)
	d.welded = map[geometry.Vec]int32{}
	d.walls = make([]PocketWall, len(d.air.Pockets))
	for k, p := range d.air.Pockets {
		box := geometry.EmptyBox()
		for _, c := range p.Cells {
			box = box.Include(d.raster.Centre(c))
		}
		d.boxes = append(d.boxes, box.Grow(d.size/2))
		d.walls[k].Top = d.vessel.Turn.Inverse().Apply(d.raster.Centre(p.Highest))
	}
}

// holes counts the plugs in a pocket to its outline; they are no wall.
func (d *drying) holes() {
	d.isHole, d.faces = true, Inner
	low, _ := d.vessel.Wall.Hole.Below(d.filling.Surface, geometry.Slack{Facet: d.vessel.SkimHeight()})
	for i := range low.Faces {
		if t := low.Triangle(i); d.isNear(t) {
			d.divide(t)
		}
	}
}

// isNear reports whether a facet may border on a pocket.
func (d *drying) isNear(t geometry.Triangle) bool {
	turn := d.vessel.Turn
	box := geometry.BoxOf(turn.Apply(t.A), turn.Apply(t.B), turn.Apply(t.C)).Grow(2 * d.size)
	for _, b := range d.boxes {
		if box.Overlaps(b) {
			return true
		}
	}
	return false
}

// divide halves a facet at its longest side until it is no longer than a cell.
func (d *drying) divide(t geometry.Triangle) {
	ab, bc, ca := t.A.Dist(t.B), t.B.Dist(t.C), t.C.Dist(t.A)
	switch longest := max(ab, bc, ca); {
	case longest <= d.size || !d.isNear(t):
		d.place(t)
	case longest == ab:
		m := t.A.Lerp(t.B, 0.5)
		d.divide(geometry.Triangle{A: t.A, B: m, C: t.C})
		d.divide(geometry.Triangle{A: m, B: t.B, C: t.C})
	case longest == bc:
		d.divide(geometry.Triangle{A: t.B, B: t.C, C: t.A})
	default:
		d.divide(geometry.Triangle{A: t.C, B: t.A, C: t.B})
	}
}

// place finds the pockets on either face of a piece and cuts it at their surfaces.
func (d *drying) place(t geometry.Triangle) {
	inner, outer := int32(-1), int32(-1)
	normal := t.Normal()
	if d.faces&Inner != 0 {
		inner = d.pocketOff(t, normal.Scale(-1))
	}
	if d.faces&Outer != 0 {
		outer = d.pocketOff(t, normal)
	}
	for _, piece := range d.cutAt(inner, []geometry.Triangle{t}) {
		for _, part := range d.cutAt(outer, []geometry.Triangle{piece}) {
			d.emit(part, inner, outer)
		}
	}
}

// pocketOff returns the pocket of the first cell off a piece in a direction, or -1. It
// looks from the upper side of the piece, which a surface may cross.
func (d *drying) pocketOff(t geometry.Triangle, direction geometry.Vec) int32 {
	p := t.A
	for _, q := range [2]geometry.Vec{t.B, t.C} {
		if d.vessel.Up.Dot(q) > d.vessel.Up.Dot(p) {
			p = q
		}
	}
	p = p.Lerp(t.Centroid(), 0.3)
	if c := FirstOff(d.raster, d.vessel.Turn.Apply(p), d.vessel.Turn.Apply(direction), d.size); c >= 0 {
		return d.air.Pocket[c]
	}
	return -1
}

// FirstOff returns the first cell off a face at p in a unit direction, both in the propped
// frame, or -1. A centre nearest to a point is at most 0.87 sizes from it, so that 0.9 keeps
// to this side; where another wall is so near that no cell lies there, those beside count.
func FirstOff(raster Raster, p, direction geometry.Vec, size float64) int32 {
	for _, step := range [3]float64{0.9, 1.4, 0.6} {
		if c, ok := raster.CellAt(p.AddScaled(direction, step*size)); ok {
			return c
		}
	}
	u, v := direction.Perpendicular()
	for _, aside := range [8]geometry.Vec{u, u.Scale(-1), v, v.Scale(-1), u.Add(v), u.Sub(v), v.Sub(u), u.Add(v).Scale(-1)} {
		if c, ok := raster.CellAt(p.AddScaled(direction, 0.9*size).AddScaled(aside, 0.6*size)); ok {
			return c
		}
	}
	return -1
}

// cutAt cuts pieces at the surface of a pocket, if it has one.
func (d *drying) cutAt(pocket int32, pieces []geometry.Triangle) []geometry.Triangle {
	if pocket < 0 || math.IsInf(d.air.Pockets[pocket].Surface, -1) {
		return pieces
	}
	plane := geometry.Plane{Normal: d.vessel.Up, Offset: d.air.Pockets[pocket].Surface}
	var out []geometry.Triangle
	for _, t := range pieces {
		low, n := t.Below(plane)
		out = append(out, low[:n]...)
		high, n := t.Below(plane.Flipped())
		if heights := plane.Height(t.A) + plane.Height(t.B) + plane.Height(t.C); heights != 0 {
			out = append(out, high[:n]...)
		}
	}
	return out
}

// emit counts a piece to its pockets where it is above their surfaces, and to the wetted
// wall where it is not.
func (d *drying) emit(t geometry.Triangle, inner, outer int32) {
	wet := d.faces
	if d.isAbove(t, inner) {
		wet &^= Inner
		d.count(t, inner, 1)
	}
	if d.isAbove(t, outer) {
		wet &^= Outer
		d.count(t, outer, -1)
	}
	if d.isHole || t.AreaVector() == (geometry.Vec{}) {
		return
	}
	corners := [3]int32{d.vertex(t.A), d.vertex(t.B), d.vertex(t.C)}
	d.add(&d.out, corners, wet)
	d.add(&d.dry, corners, d.faces&^wet)
}

func (d *drying) isAbove(t geometry.Triangle, pocket int32) bool {
	return pocket >= 0 && d.vessel.Up.Dot(t.Centroid()) > d.air.Pockets[pocket].Surface
}

// count adds a piece to a pocket; sign is 1 when its normal points out of the pocket.
func (d *drying) count(t geometry.Triangle, pocket int32, sign float64) {
	w, up := &d.walls[pocket], d.vessel.Up
	over := up.Dot(t.Centroid()) - d.air.Pockets[pocket].Surface
	w.Volume += sign * over * up.Dot(t.AreaVector())
	if d.isHole {
		return
	}
	w.Area += t.Area()
	for _, p := range [3]geometry.Vec{t.A, t.B, t.C} {
		if up.Dot(p) > up.Dot(w.Top) {
			w.Top = p
		}
	}
}

// keep adds a facet of the wetted wall as it is.
func (d *drying) keep(f [3]int32) { d.add(&d.out, f, d.faces) }

// add adds the given faces of a facet to a list, if there are any.
func (d *drying) add(to *Wetted, f [3]int32, faces Faces) {
	if faces == 0 {
		return
	}
	to.Mesh.Faces = append(to.Mesh.Faces, f)
	to.Kind = append(to.Kind, d.kind)
	to.Source = append(to.Source, d.source)
	to.Faces = append(to.Faces, faces)
}

func (d *drying) vertex(p geometry.Vec) int32 {
	i, ok := d.welded[p]
	if !ok {
		i = int32(len(d.out.Mesh.Vertices))
		d.out.Mesh.Vertices = append(d.out.Mesh.Vertices, p)
		d.welded[p] = i
	}
	return i
}
