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
	pieces []piece              // sorted by patch
	first  []int32              // pieces of patch i are pieces[first[i]:first[i+1]]
	filed  map[[3]int32][]int32 // patches by their cube
}

// piece is a bit of a facet.
type piece struct {
	at   geometry.Vec
	area float64
}

// Sizes of patches in spacings.
const (
	patchBin  = 0.8 // side of the cubes that gather pieces
	pieceEdge = 0.6 // longest edge of a piece
)

// binKey names a cube of space, a side of the steel and the way it faces: pieces that share
// all three make a patch.
type binKey struct {
	x, y, z int32
	facing  int8 // dominant axis and sign of the normal out of the liquid
	sheet   bool
}

// filed is a piece on its way into a patch.
type filed struct {
	key    binKey
	piece  piece
	normal geometry.Vec
}

// NewPatches cuts the steel into patches for lattices of spacing h.
func NewPatches(s *Steel, h float64) *Patches {
	var all []filed
	for i := range s.Mesh.Faces {
		t := s.Mesh.Triangle(i)
		n := t.Normal()
		if n == (geometry.Vec{}) {
			continue
		}
		sheet := s.Inner[i] && s.Outer[i]
		t.Split(pieceEdge*h, func(t geometry.Triangle) {
			p := piece{t.Centroid(), t.Area()}
			if s.Inner[i] {
				all = append(all, filed{keyOf(p.at, n, h, sheet), p, n})
			}
			if s.Outer[i] {
				m := n.Scale(-1)
				all = append(all, filed{keyOf(p.at, m, h, sheet), p, m})
			}
		})
	}
	slices.SortStableFunc(all, func(a, b filed) int { return compareKeys(a.key, b.key) })
	return gatherPatches(all, h)
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
	for _, d := range [4]int32{a.z - b.z, a.y - b.y, a.x - b.x, int32(a.facing - b.facing)} {
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

// gatherPatches makes a patch of each stretch of equal keys.
func gatherPatches(all []filed, h float64) *Patches {
	p := &Patches{H: h, pieces: make([]piece, len(all)), filed: map[[3]int32][]int32{}}
	for i := 0; i < len(all); {
		p.first = append(p.first, int32(i))
		var q Patch
		start := i
		for ; i < len(all) && all[i].key == all[start].key; i++ {
			w := all[i].piece.area
			q.Area += w
			q.Centre = q.Centre.AddScaled(all[i].piece.at, w)
			q.Normal = q.Normal.AddScaled(all[i].normal, w)
			p.pieces[i] = all[i].piece
		}
		q.Centre, q.Normal = q.Centre.Scale(1/q.Area), q.Normal.Unit()
		k := all[start].key
		cube := [3]int32{k.x, k.y, k.z}
		p.filed[cube] = append(p.filed[cube], int32(len(p.All)))
		p.All = append(p.All, q)
	}
	p.first = append(p.first, int32(len(all)))
	return p
}

// of returns the pieces of patch i.
func (p *Patches) of(i int) []piece { return p.pieces[p.first[i]:p.first[i+1]] }

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
	k := keyOf(at, normal, p.H, false)
	best, found := math.Inf(1), int32(-1)
	for z := k.z - 1; z <= k.z+1; z++ {
		for y := k.y - 1; y <= k.y+1; y++ {
			for x := k.x - 1; x <= k.x+1; x++ {
				for _, i := range p.filed[[3]int32{x, y, z}] {
					q := &p.All[i]
					if d := q.Centre.Dist(at); d < best && q.Normal.Dot(normal) > turned {
						best, found = d, i
					}
				}
			}
		}
	}
	return found, found >= 0
}
