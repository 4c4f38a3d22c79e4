package table

import (
	"fmt"

	"evenwall/geometry"
	"gonum.org/v1/gonum/blas/blas32"
)

// work is the memory of one evaluation.
type work struct {
	local  []int32 // by node: its place in nodes + 1, 0: not in it
	nodes  []int32 // that stand for the layout's points
	stands []stand
	part   []float32 // regular part among nodes
	felt   []float32 // by point and node: of the point's unit current
	charge []float32 // of each node, A
	kept   []float32 // current densities of the kept patches, A/m²
}

// stand is a point's nodes with their currents per unit of the point's.
type stand struct {
	box    *box
	value  solid
	slope  [3]solid
	node   []int32 // places in work.nodes
	weight []float32
}

func newWork(nodes int) *work { return &work{local: make([]int32, nodes)} }

// OutsideError says that bare metal is where the table has no nodes: nearer to steel than
// the clearance it was built for.
type OutsideError struct {
	At geometry.Vec // in the lattice's frame
}

func (e *OutsideError) Error() string {
	return fmt.Sprintf("bare metal at %v is nearer to steel than the table of layouts reaches: keep the clearance", e.At)
}

// stand finds the nodes of all points, and of the plastic's tubes after them.
func (w *work) stand(b *boxes, h *hung) error {
	for _, n := range w.nodes {
		w.local[n] = 0
	}
	w.nodes = w.nodes[:0]
	n := len(h.points) + len(h.plastic)
	if cap(w.stands) < n {
		w.stands = make([]stand, n)
	}
	w.stands = w.stands[:n]
	for i := range h.points {
		if !w.putPoint(b, &w.stands[i], &h.points[i]) {
			return &OutsideError{h.points[i].at}
		}
	}
	for i := range h.plastic {
		w.put(b, &w.stands[len(h.points)+i], h.plastic[i].at)
	}
	return nil
}

// put finds the nodes of one point, or reports that there are none.
func (w *work) put(b *boxes, s *stand, at geometry.Vec) bool {
	at.Z = min(at.Z, b.level)
	if s.box = b.find(at); s.box == nil {
		return false
	}
	s.value, s.slope = b.basis.at(at.Sub(s.box.centre).Scale(1 / b.step))
	w.weigh(s)
	return true
}

// putPoint finds the nodes of a point of a rod, which is spread along its axis: half the
// spread times the harmonics' second slope along it, by differences.
func (w *work) putPoint(b *boxes, s *stand, p *point) bool {
	at := p.at
	at.Z = min(at.Z, b.level)
	if s.box = b.find(at); s.box == nil {
		return false
	}
	const ahead = 0.25 // steps
	u, axis := at.Sub(s.box.centre).Scale(1/b.step), p.axis.Scale(ahead)
	s.value, s.slope = b.basis.at(u)
	front, _ := b.basis.at(u.Add(axis))
	behind, _ := b.basis.at(u.Sub(axis))
	half := p.spread / (2 * b.step * b.step * ahead * ahead)
	for m, v := range s.value {
		s.value[m] += half * (front[m] + behind[m] - 2*v)
	}
	w.weigh(s)
	return true
}

// weigh sets a stand's nodes.
func (w *work) weigh(s *stand) {
	s.node, s.weight = s.node[:0], s.weight[:0]
	for k, n := range s.box.node {
		s.node = append(s.node, w.place(n))
		s.weight = append(s.weight, float32(dot(s.box.weight[k*moments:], &s.value)))
	}
}

// place returns a node's place in w.nodes.
func (w *work) place(n int32) int32 {
	if w.local[n] == 0 {
		w.nodes = append(w.nodes, n)
		w.local[n] = int32(len(w.nodes))
	}
	return w.local[n] - 1
}

func dot(weight []float64, v *solid) float64 {
	sum := 0.0
	for k, x := range weight[:moments] {
		sum += x * v[k]
	}
	return sum
}

// feel finds what the unit current of each of the first points makes at all the layout's
// nodes.
func (w *work) feel(t *Table, points int) {
	n, all := len(w.nodes), len(t.boxes.nodes)
	w.part = resize(w.part, n*n)
	for i, a := range w.nodes {
		row := t.regular[int(a)*all : int(a+1)*all]
		for k, b := range w.nodes[:i+1] {
			v := row[b]
			w.part[i*n+k], w.part[k*n+i] = v, v
		}
	}
	w.felt = resize(w.felt, n*points)
	clear(w.felt)
	for i := range points {
		y := blas32.Vector{N: n, Data: w.felt[i*n : (i+1)*n], Inc: 1}
		for k, m := range w.stands[i].node {
			blas32.Axpy(w.stands[i].weight[k], blas32.Vector{N: n, Data: w.part[int(m)*n : int(m+1)*n], Inc: 1}, y)
		}
	}
}

// mutual returns the regular part between two points, kappa times the potential, 1/m.
func (w *work) mutual(i, k int) float64 {
	felt, sum := w.felt[k*len(w.nodes):(k+1)*len(w.nodes)], float32(0)
	s := &w.stands[i]
	for m, n := range s.node {
		sum += s.weight[m] * felt[n]
	}
	return float64(sum)
}

func resize(v []float32, n int) []float32 {
	if cap(v) < n {
		return make([]float32, n)
	}
	return v[:n]
}
