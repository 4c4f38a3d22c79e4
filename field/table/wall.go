package table

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas32"
	"gonum.org/v1/gonum/blas/blas64"

	"evenwall/field"
	"evenwall/geometry"
)

// wall holds what sources do to the patches. Patches near each other get current much
// alike whatever hangs in the tank: of each group a few are kept, and the others are
// mixtures of these.
type wall struct {
	groups []group
	kept   int         // of all groups
	area   []float64   // by kept patch: that it stands for, m²
	nodes  [][]float32 // by node and kept patch: current density of unit current, 1/m²
	zones  [][]float32 // by zone and kept patch: current density per V
}

// group is some patches near each other.
type group struct {
	patches []int32
	kept    []int32   // some of them
	first   int       // of the kept ones' places
	mix     []float32 // by kept patch and patch
}

// areas returns the area that each kept patch stands for, m².
func (g *group) areas(patches []field.Patch) []float64 {
	out := make([]float64, len(g.kept))
	for k := range out {
		for i, p := range g.patches {
			out[k] += float64(g.mix[k*len(g.patches)+i]) * patches[p].Area
		}
	}
	return out
}

// groupSize is how many patches a group has at most, and alike how far, by root mean square
// over the sources, a mixture may be from what it stands for, as a share of it.
const (
	groupSize = 128
	alike     = 12e-3
	sampled   = 3
	farAway   = 0.1
)

// newWall chooses the kept patches for rows of nodes and zones by patch. Of nodes each
// counts the same in each group; a zone by what it does beside the zone that does most.
func newWall(patches []field.Patch, nodes, zones [][]float32) *wall {
	w := &wall{groups: grouped(patches)}
	each(len(w.groups), func() func(int) {
		return func(k int) { w.groups[k].choose(nodes, zones) }
	})
	for k := range w.groups {
		w.groups[k].first = w.kept
		w.kept += len(w.groups[k].kept)
		w.area = append(w.area, w.groups[k].areas(patches)...)
	}
	w.nodes, w.zones = w.only(nodes), w.only(zones)
	return w
}

// grouped halves the patches across their longest extent until groups are small enough.
func grouped(patches []field.Patch) (groups []group) {
	all := make([]int32, len(patches))
	for i := range all {
		all[i] = int32(i)
	}
	var halve func(part []int32)
	halve = func(part []int32) {
		if len(part) <= groupSize {
			groups = append(groups, group{patches: part})
			return
		}
		box := geometry.EmptyBox()
		for _, i := range part {
			box = box.Include(patches[i].Centre)
		}
		size, axis := box.Size(), 0
		for k := range 3 {
			if size.Axis(k) > size.Axis(axis) {
				axis = k
			}
		}
		slices.SortFunc(part, func(a, b int32) int {
			return cmp.Or(cmp.Compare(patches[a].Centre.Axis(axis), patches[b].Centre.Axis(axis)), cmp.Compare(a, b))
		})
		halve(part[:len(part)/2])
		halve(part[len(part)/2:])
	}
	halve(all)
	return groups
}

// choose keeps one patch after the other, always the one farthest from a mixture of those
// kept: a Cholesky factorisation of the patches' products over the sources, with pivoting.
func (g *group) choose(nodes, zones [][]float32) {
	m := len(g.patches)
	products, size := g.products(nodes, zones)
	left := make([]float64, m) // what is not a mixture of the kept ones, squared
	for i := range left {
		left[i] = products.Data[i*m+i]
	}
	var factor [][]float64 // by kept one and patch
	var kept []int
	for len(kept) < m {
		pivot := 0
		for i := range left {
			if left[i] > left[pivot] {
				pivot = i
			}
		}
		if left[pivot] <= alike*alike {
			break
		}
		row, root := make([]float64, m), math.Sqrt(left[pivot])
		for i := range row {
			v := products.Data[min(i, pivot)*m+max(i, pivot)]
			for _, f := range factor {
				v -= f[i] * f[pivot]
			}
			row[i] = v / root
			left[i] -= row[i] * row[i]
		}
		left[pivot] = 0
		factor, kept = append(factor, row), append(kept, pivot)
	}
	g.blend(factor, kept, size)
}

// products returns the patches' products over all sources, each as a share of what the
// source does to the group, and each patch as a share of its own size, which is returned.
func (g *group) products(nodes, zones [][]float32) (blas64.Symmetric, []float64) {
	m := len(g.patches)
	data := make([]float64, 0, m*(len(nodes)+len(zones)))
	most, near := 0.0, 0.0
	put := func(from []float32) float64 {
		sum := 0.0
		for _, p := range g.patches {
			v := float64(from[p])
			data = append(data, v)
			sum += v * v
		}
		return math.Sqrt(math.Max(sum, math.SmallestNonzeroFloat32))
	}
	for i, row := range nodes {
		size := put(row)
		last := data[len(data)-m:]
		if near = math.Max(near, size); i%sampled > 0 && size < farAway*near {
			data = data[:len(data)-m]
			continue
		}
		scale(last, 1/size)
	}
	byNodes := len(data)
	for _, row := range zones {
		most = math.Max(most, put(row))
	}
	scale(data[byNodes:], 1/most)
	all := blas64.General{Rows: len(data) / m, Cols: m, Stride: m, Data: data}
	out := blas64.Symmetric{N: m, Stride: m, Data: make([]float64, m*m), Uplo: blas.Upper}
	blas64.Syrk(blas.Trans, 1, all, 0, out)
	size := make([]float64, m)
	for i := range size {
		size[i] = math.Sqrt(math.Max(out.Data[i*m+i], math.SmallestNonzeroFloat32))
	}
	for i := range m {
		for k := i; k < m; k++ {
			out.Data[i*m+k] /= size[i] * size[k]
		}
	}
	return out, size
}

// blend sets the mixtures: the factor's rows, solved for the kept ones.
func (g *group) blend(factor [][]float64, kept []int, size []float64) {
	m := len(g.patches)
	g.mix = make([]float32, len(kept)*m)
	for _, k := range kept {
		g.kept = append(g.kept, g.patches[k])
	}
	part := make([]float64, len(kept))
	for i := range m {
		for k := len(kept) - 1; k >= 0; k-- {
			v := factor[k][i]
			for l := k + 1; l < len(kept); l++ {
				v -= factor[k][kept[l]] * part[l]
			}
			part[k] = v / factor[k][kept[k]]
			g.mix[k*m+i] = float32(part[k] * size[i] / size[kept[k]])
		}
	}
}

func scale(v []float64, by float64) {
	for i := range v {
		v[i] *= by
	}
}

// only returns the rows' figures of the kept patches.
func (w *wall) only(rows [][]float32) [][]float32 {
	out := make([][]float32, len(rows))
	all := make([]float32, len(rows)*w.kept)
	for i := range rows {
		out[i] = all[i*w.kept : (i+1)*w.kept]
		for k := range w.groups {
			g := &w.groups[k]
			for l, p := range g.kept {
				out[i][g.first+l] = rows[i][p]
			}
		}
	}
	return out
}

// add adds rows times factors to the kept patches' current densities.
func add(sum []float32, factor float32, row []float32) {
	blas32.Axpy(factor, blas32.Vector{N: len(sum), Data: row, Inc: 1}, blas32.Vector{N: len(sum), Data: sum, Inc: 1})
}

// eachGroup visits the groups with their patches' current densities for those of the kept
// ones.
func (w *wall) eachGroup(kept []float32, visit func(patches []int32, densities []float32)) {
	var room [groupSize]float32
	for k := range w.groups {
		g := &w.groups[k]
		m, n := len(g.patches), len(g.kept)
		clear(room[:m])
		addRows(room[:m], kept[g.first:g.first+n], func(k int) []float32 { return g.mix[k*m : (k+1)*m] })
		visit(g.patches, room[:m])
	}
}
