package field

import (
	"math"
	"slices"

	"evenwall/geometry"
)

// Steel is the wetted wall in the frame of the lattice.
type Steel struct {
	Mesh  geometry.Mesh
	Inner []bool // of each facet: liquid touches the face that the normal points away from
	Outer []bool // of each facet: liquid touches the face that the normal points to (a sheet's)

	// InnerClass and OuterClass, where set, keep wall apart: no patch has parts of two classes.
	InnerClass, OuterClass []uint8
}

// Patch is a small piece of wetted wall, at most about one and a half spacings across.
type Patch struct {
	Centre geometry.Vec // m
	Normal geometry.Vec // unit, out of the liquid into the steel
	Area   float64      // m²
}

// Patches is the wall cut into patches, for lattices of one spacing.
type Patches struct {
	All    []Patch
	H      float64              // spacing that they were made for, m
	bins   []binKey             // of each patch: where it is filed; of a sheet's, side is that of its face
	spread []moments            // of each patch about its centre, over its area
	filed  map[[3]int32][]int32 // patches by their cube
}

// moments are the integrals, or means, of x², y², z², xy, xz, yz over an area.
type moments [6]float64

// add adds those of a point times a weight.
func (m *moments) add(p geometry.Vec, weight float64) {
	x, y, z := p.X*weight, p.Y*weight, p.Z*weight
	m[0], m[1], m[2] = m[0]+x*p.X, m[1]+y*p.Y, m[2]+z*p.Z
	m[3], m[4], m[5] = m[3]+x*p.Y, m[4]+x*p.Z, m[5]+y*p.Z
}

// Sizes of patches in spacings.
const (
	patchBin  = 0.85 // side of the cubes that gather pieces
	pieceEdge = 0.6  // longest edge of a piece
)

// binKey names a cube of space, a side of the steel and the way it faces: pieces that share
// all three make a patch.
type binKey struct {
	x, y, z int32
	facing  int8 // dominant axis and sign of the normal out of the liquid
	side    int8 // of a sheet close by: 1 where its normals point to, -1 the other, 0 none close
	sheet   bool
	class   uint8
}

// cutting is patches in the making.
type cutting struct {
	h      float64
	sheets *sheets
	ids    map[binKey]int32
	keys   []binKey // of each patch
	face   []int8   // of each patch of a sheet: the side that it is wetted on, as binKey has it
	all    []Patch  // Centre and Normal as sums over the pieces, weighted by area
	spread []moments
}

// piece is what a piece of wall is part of.
type piece struct {
	sheet bool // wetted on both faces
	face  int8 // which of them it is: 1 the one that the normal of the facet points to, -1 the other
	class uint8
}

// classOf returns the class of a facet, 0 where there are none.
func classOf(classes []uint8, i int) uint8 {
	if classes == nil {
		return 0
	}
	return classes[i]
}

// add files one piece.
func (c *cutting) add(t geometry.Triangle, normal geometry.Vec, of piece) {
	at, area := t.Centroid(), t.Area()
	key := keyOf(at, normal, c.h, of.sheet)
	key.class = of.class
	if !of.sheet {
		key.side = c.sheets.side(at, 2*c.h)
	}
	id, ok := c.ids[key]
	if !ok {
		id = int32(len(c.all))
		c.ids[key] = id
		c.keys, c.all, c.spread = append(c.keys, key), append(c.all, Patch{}), append(c.spread, moments{})
		c.face = append(c.face, of.face)
	}
	q, m := &c.all[id], &c.spread[id]
	q.Area += area
	q.Centre = q.Centre.AddScaled(at, area)
	q.Normal = q.Normal.AddScaled(normal, area)
	// the mean of a quadratic over a triangle, exactly: by its corners and its centroid
	m.add(at, area*3/4)
	m.add(t.A, area/12)
	m.add(t.B, area/12)
	m.add(t.C, area/12)
}

// NewPatches cuts the steel into patches for lattices of spacing h.
func NewPatches(s *Steel, h float64) *Patches {
	c := cutting{h: h, ids: map[binKey]int32{}, sheets: sheetsOf(s)}
	for i := range s.Mesh.Faces {
		t := s.Mesh.Triangle(i)
		n := t.Normal()
		if n == (geometry.Vec{}) {
			continue
		}
		t.Split(pieceEdge*h, func(t geometry.Triangle) {
			if s.Inner[i] {
				c.add(t, n, piece{s.Outer[i], -1, classOf(s.InnerClass, i)})
			}
			if s.Outer[i] {
				c.add(t, n.Scale(-1), piece{s.Inner[i], 1, classOf(s.OuterClass, i)})
			}
		})
	}
	return c.patches()
}

// patches orders the patches by place.
func (c *cutting) patches() *Patches {
	order := make([]int32, len(c.all))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int { return compareKeys(c.keys[a], c.keys[b]) })
	p := &Patches{H: c.h, All: make([]Patch, len(order)), bins: make([]binKey, len(order)), spread: make([]moments, len(order)),
		filed: make(map[[3]int32][]int32, len(order))}
	for at, id := range order {
		q, m, k := c.all[id], c.spread[id], c.keys[id]
		q.Centre, q.Normal = q.Centre.Scale(1/q.Area), q.Normal.Unit()
		for i := range m {
			m[i] /= q.Area
		}
		m.add(q.Centre, -1)
		p.All[at], p.bins[at], p.spread[at] = q, k, m
		if p.bins[at].sheet {
			p.bins[at].side = c.face[id]
		}
		cube := [3]int32{k.x, k.y, k.z}
		p.filed[cube] = append(p.filed[cube], int32(at))
	}
	return p
}

// keyOf files a piece by place and by the way it faces.
func keyOf(p, n geometry.Vec, h float64, sheet bool) binKey {
	side := patchBin * h
	cube := func(x float64) int32 { return int32(math.Floor(x/side + 1e-6)) }
	k := binKey{x: cube(p.X), y: cube(p.Y), z: cube(p.Z), sheet: sheet}
	most := 0.0
	for axis := range 3 {
		if a := math.Abs(n.Axis(axis)); a > most+1e-9 {
			most = a
			k.facing = int8(2 * axis)
			if n.Axis(axis) < 0 {
				k.facing++
			}
		}
	}
	return k
}

func compareKeys(a, b binKey) int {
	for _, d := range [6]int32{a.z - b.z, a.y - b.y, a.x - b.x, int32(a.facing - b.facing), int32(a.side - b.side), int32(a.class) - int32(b.class)} {
		if d != 0 {
			return int(d)
		}
	}
	switch {
	case a.sheet == b.sheet:
		return 0
	case b.sheet:
		return -1
	default:
		return 1
	}
}

// Area returns the area of all patches, m².
func (p *Patches) Area() float64 {
	sum := 0.0
	for i := range p.All {
		sum += p.All[i].Area
	}
	return sum
}

// Nearest returns the patch nearest to p among those close by that face the way of normal,
// a unit vector out of the liquid; false when there is none.
func (p *Patches) Nearest(at, normal geometry.Vec) (int32, bool) {
	return p.Finder().Nearest(at, normal)
}

// Finder looks for the patches nearest to points, quickest where each is near the one before.
// It may not be used side by side.
type Finder struct {
	patches *Patches
	cube    [3]int32
	near    []int32 // in the cube and those round it

	Only func(i int32) bool // which patches are looked at; nil: all
}

// Finder returns one for these patches.
func (p *Patches) Finder() *Finder { return &Finder{patches: p} }

// Nearest is Nearest of Patches.
func (f *Finder) Nearest(at, normal geometry.Vec) (int32, bool) {
	k := keyOf(at, normal, f.patches.H, false)
	if cube := [3]int32{k.x, k.y, k.z}; f.near == nil || cube != f.cube {
		f.moveTo(cube)
	}
	best, found := math.Inf(1), int32(-1)
	for _, i := range f.near {
		q := &f.patches.All[i]
		if d := q.Centre.Sub(at); d.Dot(d) < best && q.Normal.Dot(normal) > turned && (f.Only == nil || f.Only(i)) {
			best, found = d.Dot(d), i
		}
	}
	return found, found >= 0
}

// moveTo lists the patches about a cube.
func (f *Finder) moveTo(cube [3]int32) {
	f.cube, f.near = cube, f.near[:0]
	for z := cube[2] - 1; z <= cube[2]+1; z++ {
		for y := cube[1] - 1; y <= cube[1]+1; y++ {
			for x := cube[0] - 1; x <= cube[0]+1; x++ {
				f.near = append(f.near, f.patches.filed[[3]int32{x, y, z}]...)
			}
		}
	}
}
