package render

import (
	"math"
	"sort"

	"evenwall/geometry"
)

// Patch is a connected piece of wetted wall that gets little current.
type Patch struct {
	Number int          // 1 for the largest
	Faces  []int        // of the surface, ascending
	Area   float64      // m²
	Least  float64      // smallest figure in it, A/m²
	Mean   float64      // by area, A/m²
	Point  geometry.Vec // m, centre of the facet nearest to the patch's own centre
	Words  string       // the place, as seen from the filler
	Never  bool         // no layout reaches it: hatched crosswise
}

// PatchSettings says which patches to look for and from where to word their places.
// The zero value of each field is the default in its comment.
type PatchSettings struct {
	Below    float64      // A/m²: facets under it belong to a patch; 0, or no facet under it: the least 2 % by area
	Most     int          // patches returned; 0: 5
	Smallest float64      // m², smaller patches are left out; 0: 0.1 % of the wetted area
	From     geometry.Vec // m, where places are measured from: the filler's centre
	Sides    geometry.Sides
}

// LeastReached returns the largest connected patches of wetted wall that get less than
// the settings say, largest first.
func LeastReached(s Surface, set PatchSettings) []Patch {
	wetted, below := s.lowFaces(set.Below)
	if len(below) == 0 {
		return nil
	}
	smallest := set.Smallest
	if smallest == 0 {
		smallest = 0.001 * wetted
	}
	var patches []Patch
	for _, faces := range s.connected(below) {
		if p := s.patch(faces); p.Area >= smallest {
			patches = append(patches, p)
		}
	}
	sort.SliceStable(patches, func(i, k int) bool { return patches[i].Area > patches[k].Area })
	most := set.Most
	if most == 0 {
		most = 5
	}
	patches = patches[:min(most, len(patches))]
	for i := range patches {
		patches[i].Number = i + 1
		patches[i].Words = Whereabout(set.Sides, set.From, patches[i].Point)
	}
	return patches
}

// lowFaces returns the wetted area and the faces below the limit, or the least 2 % of
// the area where none is.
func (s *Surface) lowFaces(limit float64) (wetted float64, below []int) {
	const share = 0.02
	samples := s.wettedSamplesWithZero()
	if len(samples) == 0 {
		return 0, nil
	}
	least := samples[0].value
	for _, w := range samples {
		wetted += w.area
		least = min(least, w.value)
	}
	if least >= limit {
		sort.Slice(samples, func(i, k int) bool { return samples[i].value < samples[k].value })
		limit = math.Nextafter(percentile(samples, share), math.Inf(1))
	}
	for i := range s.Mesh.Faces {
		if s.state(i) == Wetted && s.value(i) < limit {
			below = append(below, i)
		}
	}
	return wetted, below
}

func (s *Surface) wettedSamplesWithZero() []weighted {
	var out []weighted
	for i := range s.Mesh.Faces {
		if s.state(i) == Wetted {
			out = append(out, weighted{s.value(i), s.Mesh.Triangle(i).Area()})
		}
	}
	return out
}

// connected groups faces, given in ascending order, that share an edge. The two sides of a
// sheet share edges too; facets that lie back to back are kept apart.
func (s *Surface) connected(faces []int) [][]int {
	corner := s.welded(faces)
	g := grouping{parent: make([]int32, len(faces)), last: make([]int32, len(s.Mesh.Vertices))}
	for i, f := range faces {
		g.parent[i] = int32(i)
		for k := range 3 {
			a, b := corner[s.Mesh.Faces[f][k]], corner[s.Mesh.Faces[f][(k+1)%3]]
			g.side(min(a, b), max(a, b), int32(i), func(other int32) bool { return !s.backToBack(f, faces[other]) })
		}
	}
	var out [][]int
	place := make([]int, len(faces)) // in out, of each root
	for i, f := range faces {
		r := g.root(int32(i))
		if int(r) == i { // the least of its group
			place[i] = len(out)
			out = append(out, nil)
		}
		out[place[r]] = append(out[place[r]], f)
	}
	return out
}

// grouping joins faces, by their place in a list, over their sides. Sides are filed by their
// lower corner: few share one.
type grouping struct {
	parent []int32
	last   []int32 // by lower corner: its last side, plus 1
	sides  []filedSide
}

type filedSide struct{ high, face, before int32 }

// side files a side of face and joins face with those that have it already and belong to it.
func (g *grouping) side(low, high, face int32, belongs func(other int32) bool) {
	for k := g.last[low]; k > 0; k = g.sides[k-1].before {
		if e := &g.sides[k-1]; e.high == high && belongs(e.face) {
			a, b := g.root(face), g.root(e.face)
			g.parent[max(a, b)] = min(a, b)
		}
	}
	g.sides = append(g.sides, filedSide{high, face, g.last[low]})
	g.last[low] = int32(len(g.sides))
}

// root follows a face to its group's first one and shortens the way there.
func (g *grouping) root(f int32) int32 {
	for g.parent[f] != f {
		g.parent[f] = g.parent[g.parent[f]]
		f = g.parent[f]
	}
	return f
}

func (s *Surface) backToBack(f, g int) bool {
	const opposite = -0.9
	return s.Mesh.Triangle(f).Normal().Dot(s.Mesh.Triangle(g).Normal()) < opposite
}

// welded returns, for each corner of the faces, the first one at the same place to a
// micrometre.
func (s *Surface) welded(faces []int) []int32 {
	const grid = 1e6 // 1/m
	first := make(map[[3]int32]int32, len(faces)/2)
	out := make([]int32, len(s.Mesh.Vertices))
	for i := range out {
		out[i] = -1
	}
	for _, f := range faces {
		for _, k := range s.Mesh.Faces[f] {
			if out[k] >= 0 {
				continue
			}
			v := s.Mesh.Vertices[k]
			key := [3]int32{int32(math.Round(v.X * grid)), int32(math.Round(v.Y * grid)), int32(math.Round(v.Z * grid))}
			at, known := first[key]
			if !known {
				at = k
				first[key] = k
			}
			out[k] = at
		}
	}
	return out
}

// patch sums up a group of faces.
func (s *Surface) patch(faces []int) Patch {
	p := Patch{Faces: faces, Least: math.Inf(1)}
	centre := geometry.Vec{}
	for _, f := range faces {
		t := s.Mesh.Triangle(f)
		area := t.Area()
		p.Area += area
		p.Mean += area * s.value(f)
		p.Least = min(p.Least, s.value(f))
		centre = centre.AddScaled(t.Centroid(), area)
	}
	if p.Area > 0 {
		p.Mean /= p.Area
		centre = centre.Scale(1 / p.Area)
	}
	nearest := math.Inf(1)
	for _, f := range faces {
		if c := s.Mesh.Triangle(f).Centroid(); c.Dist(centre) < nearest {
			nearest, p.Point = c.Dist(centre), c
		}
	}
	return p
}
