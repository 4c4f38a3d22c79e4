package render

import (
	"math"

	"evenwall/geometry"
)

// grid builds surfaces of cubes: every face between a cube inside and one outside becomes
// two facets, wound with the normal outward.
type grid struct {
	nx, ny, nz int
	size       float64 // m, of a cube
	inside     func(x, y, z int) bool
}

func (g grid) has(c [3]int) bool {
	for k, n := range [3]int{g.nx, g.ny, g.nz} {
		if c[k] < 0 || c[k] >= n {
			return false
		}
	}
	return g.inside == nil || g.inside(c[0], c[1], c[2])
}

func (g grid) mesh() geometry.Mesh {
	var m geometry.Mesh
	known := map[[3]int]int32{}
	vertex := func(c [3]int) int32 {
		if i, ok := known[c]; ok {
			return i
		}
		m.Vertices = append(m.Vertices, geometry.V(float64(c[0]), float64(c[1]), float64(c[2])).Scale(g.size))
		known[c] = int32(len(m.Vertices) - 1)
		return known[c]
	}
	for x := range g.nx {
		for y := range g.ny {
			for z := range g.nz {
				if c := [3]int{x, y, z}; g.has(c) {
					g.sides(c, vertex, &m)
				}
			}
		}
	}
	return m
}

// sides adds the outer faces of one cube.
func (g grid) sides(c [3]int, vertex func([3]int) int32, m *geometry.Mesh) {
	for axis := range 3 {
		for _, side := range []int{0, 1} {
			next := c
			next[axis] += 2*side - 1
			if g.has(next) {
				continue
			}
			p, u, v := c, (axis+1)%3, (axis+2)%3
			p[axis] += side
			q, r, s := p, p, p
			q[u]++
			r[u]++
			r[v]++
			s[v]++
			a, b, d, e := vertex(p), vertex(q), vertex(r), vertex(s)
			if side == 0 {
				b, e = e, b
			}
			m.Faces = append(m.Faces, [3]int32{a, b, d}, [3]int32{a, d, e})
		}
	}
}

// lit gives each facet the current density of a line source along the bare rod in open
// liquid, falling on it at its angle: A/m² for current per length in A/m. It is no
// solution in a tank, but has the range and the shadows of one.
func lit(m *geometry.Mesh, r *geometry.Rod, perLength float64) []float64 {
	out := make([]float64, len(m.Faces))
	for i := range out {
		t := m.Triangle(i)
		centre, normal := t.Centroid(), t.Normal()
		const step = 0.005
		for _, s := range r.Bare {
			for at := s.From + step/2; at < s.To; at += step {
				p, _ := r.At(at)
				d := centre.Sub(p)
				out[i] += math.Abs(perLength * step * normal.Dot(d) / (4 * math.Pi * math.Pow(d.Norm(), 3)))
			}
		}
		out[i] *= math.Exp(-8 * centre.Dist(r.Path[0]))
	}
	return out
}

// pumpHouse is the orchard's engine tank: a box of 400 x 260 x 190 mm with the filler on
// top and a frame tunnel along the floor, filled to 150 mm and propped 4 degrees.
func pumpHouse(cube float64) Scene {
	n := func(mm float64) int { return int(math.Round(mm / 1000 / cube)) }
	g := grid{nx: n(400), ny: n(260), nz: n(190), size: cube}
	g.inside = func(x, y, z int) bool {
		return z >= n(80) || y < n(90) || y >= n(170)
	}
	m := g.mesh()
	rod := geometry.Rod{
		Name: "rod", Radius: 0.005, Sleeve: 0.008,
		Path: geometry.Straight(geometry.V(0.16, 0.13, 0.1), geometry.V(0.11, 0.12, 0.24)),
		Bare: []geometry.Span{{From: 0, To: 0.05}},
	}
	s := Scene{
		Title:    "Orchard pump house: engine tank",
		Surface:  Surface{Mesh: m, Value: lit(&m, &rod, 60), State: make([]State, len(m.Faces))},
		Rods:     []geometry.Rod{rod},
		Openings: []Opening{{Name: "filler", Centre: geometry.V(0.12, 0.12, 0.19), Axis: geometry.V(0, 0, 1), Diameter: 0.06}},
		Liquid:   Plane{Point: geometry.V(0.2, 0.13, 0.15), Normal: geometry.Attitude(0.07, 0).Inverse().Apply(geometry.V(0, 0, 1))},
		Least:    1,
		Notes:    Notes{Field: "current within 2 %, the wall's least tenth within 6 %"},
	}
	s.mark()
	s.Patches = LeastReached(s.Surface, PatchSettings{Below: s.Least, From: s.Openings[0].Centre})
	return s
}

// mark sets each facet's state from the liquid and the openings.
func (s *Scene) mark() {
	for i := range s.Surface.Mesh.Faces {
		c := s.Surface.Mesh.Triangle(i).Centroid()
		if s.Liquid.Normal != (geometry.Vec{}) && s.Liquid.Height(c) > 0 {
			s.Surface.State[i] = Dry
		}
		for _, o := range s.Openings {
			axis := o.Axis.Unit()
			d := c.Sub(o.Centre)
			along := d.Dot(axis)
			if math.Abs(along) < o.Diameter/4 && d.Sub(axis.Scale(along)).Norm() < o.Diameter/2 {
				s.Surface.State[i] = Open
			}
		}
	}
}

// sprayer is an upright vessel of 200 x 200 x 500 mm, full, with a baffle across it that
// leaves a slot at the floor, seen from both sides.
func sprayer(cube float64) Scene {
	n := func(mm float64) int { return int(math.Round(mm / 1000 / cube)) }
	shell := grid{nx: n(200), ny: n(200), nz: n(500), size: cube}.mesh()
	m := shell
	slab := grid{nx: 1, ny: n(200), nz: n(460), size: cube}.mesh()
	sheet := slab.Transformed(func(v geometry.Vec) geometry.Vec {
		return geometry.V(0.12, v.Y, v.Z+0.04)
	})
	plane := geometry.Mesh{Vertices: sheet.Vertices}
	for i, f := range sheet.Faces {
		if math.Abs(sheet.Triangle(i).Area()) > 0 && math.Abs(sheet.Triangle(i).Normal().X) > 0.9 {
			plane.Faces = append(plane.Faces, f)
		}
	}
	m.Append(plane)
	rod := geometry.Rod{
		Name: "rod", Radius: 0.006,
		Path: geometry.Straight(geometry.V(0.05, 0.1, 0.08), geometry.V(0.05, 0.1, 0.53)),
		Bare: []geometry.Span{{From: 0, To: 0.4}},
	}
	s := Scene{
		Title: "Sprayer vessel, upright",
		Surface: Surface{
			Mesh: m, Value: lit(&m, &rod, 20), State: make([]State, len(m.Faces)),
			Sheet: make([]bool, len(m.Faces)),
		},
		Rods: []geometry.Rod{rod},
		Openings: []Opening{
			{Name: "filler", Centre: geometry.V(0.06, 0.1, 0.5), Axis: geometry.V(0, 0, 1), Diameter: 0.07},
			{Name: "outlet", Centre: geometry.V(0.15, 0.1, 0), Axis: geometry.V(0, 0, -1), Diameter: 0.03},
		},
		Least: 1,
	}
	for i := len(shell.Faces); i < len(m.Faces); i++ {
		s.Surface.Sheet[i] = true
	}
	for i := range m.Faces {
		if m.Triangle(i).Centroid().X > 0.12 {
			s.Surface.Value[i] *= 0.02
		}
		if i >= len(shell.Faces) && m.Triangle(i).Normal().X < 0 {
			s.Surface.Value[i] *= 0.02
		}
	}
	s.mark()
	for i := range m.Faces {
		c := m.Triangle(i).Centroid()
		if s.Surface.State[i] == Open && c.Z < 0.01 {
			s.Surface.State[i] = Insulated
		}
		if c.Z > 0.3 && c.Z < 0.34 && c.X < 0.001 && c.Y < 0.05 {
			s.Surface.Value[i] = math.NaN()
		}
	}
	s.Patches = LeastReached(s.Surface, PatchSettings{Below: s.Least, From: s.Openings[0].Centre})
	return s
}

// inLiquid returns a potential that falls off from the bare rod as from a line source in
// open liquid, in V, known on a 3 mm lattice of the box around the tank below the level:
// a stand-in for a solver's answer.
func inLiquid(s *Scene) func(geometry.Vec) (float64, bool) {
	box := s.Surface.Mesh.Bounds()
	r := &s.Rods[0]
	return func(p geometry.Vec) (float64, bool) {
		if !box.Contains(p) || s.Liquid.Height(p) > 0 {
			return 0, false
		}
		volts := 0.0
		const step = 0.004
		for _, b := range r.Bare {
			for at := b.From + step/2; at < b.To; at += step {
				q, _ := r.At(at)
				volts += step / max(p.Dist(q), r.Radius)
			}
		}
		return 1.6 * volts, true
	}
}

// gapOf finds the shortest way from the bare rod to the steel by trying many points.
func gapOf(s *Scene) Gap {
	r := &s.Rods[0]
	best := Gap{Rod: r.Name, Distance: math.Inf(1)}
	for _, b := range r.Bare {
		for k := range 21 {
			axis, along := r.At(b.From + r.Radius + (b.Length()-r.Radius)*float64(k)/20)
			for i := range s.Surface.Mesh.Faces {
				if s.Surface.state(i) == Open {
					continue
				}
				on := s.Surface.Mesh.Triangle(i).Closest(axis)
				radial := on.Sub(axis).AddScaled(along, -on.Sub(axis).Dot(along))
				if k == 0 && b.From == 0 { // the tip is a half sphere
					radial = on.Sub(axis)
				}
				side := axis.AddScaled(radial.Unit(), r.Radius)
				if d := on.Dist(side); d < best.Distance {
					best = Gap{r.Name, side, on, d}
				}
			}
		}
	}
	return best
}
