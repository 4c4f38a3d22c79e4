package render

import (
	"math"
	"sort"
	"strings"

	"evenwall/geometry"
)

// Differing is a connected piece of wetted wall of which one layout gets much more than
// another.
type Differing struct {
	Patch
	Side       string    // what wall it is: bottom, front left, baffle
	Most, Less int       // the layouts that give it the most and the least
	Each       []float64 // mean by each layout, A/m²
}

// DifferSettings says what counts. The zero value of each field is the default in its
// comment.
type DifferSettings struct {
	Least, Ceiling float64      // A/m²: less counts as Least and more as Ceiling, as neither changes what the wall does
	Pieces         int          // returned at most; 0: 4
	From           geometry.Vec // m, where places are measured from: the filler's centre
	Sides          geometry.Sides
}

// MostDifferent returns the pieces of wall where layouts differ most, by area times the
// logarithm of the ratio, the greatest first. each has the figures of one layout, one a face
// of the surface, A/m².
func MostDifferent(s Surface, each [][]float64, set DifferSettings) []Differing {
	if set.Pieces == 0 {
		set.Pieces = 4
	}
	d := differ{surface: &s, each: each, set: set}
	d.compare()
	groups := map[[2]int][]int{}
	var order [][2]int
	bar := d.bar()
	for f, by := range d.by {
		if by > 0 && by >= bar {
			pair := d.pair[f]
			if groups[pair] == nil {
				order = append(order, pair)
			}
			groups[pair] = append(groups[pair], f)
		}
	}
	var out []Differing
	var weight []float64
	for _, pair := range order {
		for _, faces := range s.connected(groups[pair]) {
			piece, w := d.piece(faces, pair)
			out, weight = append(out, piece), append(weight, w)
		}
	}
	return d.first(out, weight)
}

// differ is the comparison at work.
type differ struct {
	surface *Surface
	each    [][]float64
	set     DifferSettings
	by      []float64 // of each face: logarithm of the most over the least; 0 where not wetted
	pair    [][2]int  // the layouts that give it the most and the least
}

func (d *differ) compare() {
	n := len(d.surface.Mesh.Faces)
	d.by, d.pair = make([]float64, n), make([][2]int, n)
	for f := range n {
		if d.surface.state(f) != Wetted {
			continue
		}
		most, less := 0, 0
		for k := range d.each {
			if d.each[k][f] > d.each[most][f] {
				most = k
			}
			if d.each[k][f] < d.each[less][f] {
				less = k
			}
		}
		d.by[f], d.pair[f] = math.Log(d.counted(d.each[most][f])/d.counted(d.each[less][f])), [2]int{most, less}
	}
}

// counted returns the figure within what changes the wall.
func (d *differ) counted(j float64) float64 {
	if d.set.Ceiling > 0 {
		j = min(j, d.set.Ceiling)
	}
	return max(j, d.set.Least, 1e-9)
}

// bar returns how much a face must differ to belong to a piece: half of what all but the
// last twentieth of the wall stays under, as a logarithm.
func (d *differ) bar() float64 {
	var samples []weighted
	for f, by := range d.by {
		if d.surface.state(f) == Wetted {
			samples = append(samples, weighted{by, d.surface.Mesh.Triangle(f).Area()})
		}
	}
	if len(samples) == 0 {
		return 0
	}
	sort.Slice(samples, func(i, k int) bool { return samples[i].value < samples[k].value })
	return percentile(samples, 0.95) / 2
}

// piece sums up a group of faces and returns its weight.
func (d *differ) piece(faces []int, pair [2]int) (Differing, float64) {
	out := Differing{Patch: d.surface.patch(faces), Most: pair[0], Less: pair[1], Each: make([]float64, len(d.each))}
	weight, sheet, normal := 0.0, 0.0, geometry.Vec{}
	for _, f := range faces {
		t := d.surface.Mesh.Triangle(f)
		area := t.Area()
		weight += area * d.by[f]
		normal = normal.AddScaled(t.Normal(), area)
		if d.surface.sheet(f) {
			sheet += area
		}
		for k := range d.each {
			out.Each[k] += area * d.each[k][f] / out.Area
		}
	}
	switch {
	case sheet > out.Area/2:
		out.Side = "baffle"
	case normal.Norm() > 0.5*out.Area:
		out.Side = d.set.Sides.Name(normal)
	default:
		out.Side = allSides(d.set.Sides, d.surface, faces)
	}
	out.Words = whereabout(d.set.Sides, d.set.From, out.Point)
	return out, weight
}

// allSides names the sides that a piece that goes round a corner lies on, the largest first, each
// with a fifth of it or more.
func allSides(s geometry.Sides, surface *Surface, faces []int) string {
	area, total := map[string]float64{}, 0.0
	for _, f := range faces {
		t := surface.Mesh.Triangle(f)
		best, most := "", -2.0
		for _, side := range s.All() {
			if c := t.Normal().Dot(side.Direction); c > most {
				best, most = side.Name, c
			}
		}
		area[best] += t.Area()
		total += t.Area()
	}
	var names []string
	for _, side := range s.All() {
		if area[side.Name] >= total/5 {
			names = append(names, side.Name)
		}
	}
	sort.SliceStable(names, func(i, k int) bool { return area[names[i]] > area[names[k]] })
	if last := len(names) - 1; last > 0 {
		return strings.Join(names[:last], ", ") + " and " + names[last]
	}
	return strings.Join(names, "")
}

// first returns the weightiest pieces, numbered, and leaves out crumbs.
func (d *differ) first(pieces []Differing, weight []float64) []Differing {
	const crumb = 0.02 // of the weightiest
	order := make([]int, len(pieces))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, k int) bool { return weight[order[i]] > weight[order[k]] })
	var out []Differing
	for _, i := range order[:min(len(order), d.set.Pieces)] {
		if weight[i] >= crumb*weight[order[0]] {
			pieces[i].Number = len(out) + 1
			out = append(out, pieces[i])
		}
	}
	return out
}
