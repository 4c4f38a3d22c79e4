package table

import (
	"math"

	"gonum.org/v1/gonum/blas/blas32"
)

// bias is the zones of one layout: what their law takes besides its slope.
type bias struct {
	*zones
	volts  []float32 // by zone
	from   []float32 // current density by the nodes' currents, A/m²
	j      []float32 // with the zones' volts, A/m²
	atNode []float32 // V at the layout's nodes
}

// newBias begins with the zones' usual volts.
func newBias(z *zones) *bias {
	n := len(z.centre)
	return &bias{zones: z, volts: append([]float32(nil), z.usual...), from: make([]float32, n), j: make([]float32, n)}
}

// How the zones are settled: zone by zone, each with the others as they are. A step of Newton's
// rule of a share near leaves about its square.
const (
	mostSweeps  = 12
	leastChange = 2e-4 // V
	near        = 0.01
)

// settle finds the zones' volts for the nodes' currents.
func (b *bias) settle(w *work) {
	n := len(b.centre)
	clear(b.from)
	for k, node := range w.nodes {
		add(b.from, w.charge[k], b.felt[int(node)*n:int(node+1)*n])
	}
	copy(b.j, b.from)
	for z, v := range b.volts {
		b.add(z, v)
	}
	for range mostSweeps {
		change := float32(0)
		for z := range b.volts {
			change = max(change, b.one(z))
		}
		if change < leastChange {
			break
		}
	}
	b.nodes(w)
}

// add adds what more volts of a zone do.
func (b *bias) add(zone int, volts float32) {
	n := len(b.j)
	add(b.j, volts, b.mean[zone*n:(zone+1)*n])
}

// one makes the law hold in one zone and returns by how much its volts changed. Its volts v
// and current density j are on a falling line, and v + slope j is the law's drop, which
// rises: Newton's rule.
func (b *bias) one(zone int) float32 {
	own := float64(b.mean[zone*len(b.j)+zone])
	j, volts, slope := float64(b.j[zone]), float64(b.volts[zone]), b.slope[zone]
	alone := j - own*volts
	drop, rises := b.law.Drop(j)
	for range 8 {
		moved := -(alone + own*(drop-slope*j) - j) / (own*(rises-slope) - 1)
		j += moved
		if drop, rises = b.law.Drop(j); math.Abs(moved) <= near*math.Abs(j) {
			break
		}
	}
	change := float32(drop - slope*j - volts)
	b.volts[zone] += change
	b.add(zone, change)
	return max(change, -change)
}

// nodes finds the volts at the layout's nodes.
func (b *bias) nodes(w *work) {
	n := len(b.volts)
	b.atNode = resize(b.atNode, len(w.nodes))
	all := blas32.Vector{N: n, Data: b.volts, Inc: 1}
	for k, node := range w.nodes {
		b.atNode[k] = blas32.Dot(all, blas32.Vector{N: n, Data: b.zones.volts[int(node)*n : int(node+1)*n], Inc: 1})
	}
}

// local returns a patch's current density with what its law takes, where that differs from
// what its zones do: the wall's unevenness within a zone meets the resistance of the liquid
// over about half the distance between zones. line is the current density by the zones.
func (b *bias) local(patch int, line, kappa float64) float64 {
	volts := 0.0
	for _, k := range b.shares[patch] {
		volts += k.value * float64(b.volts[k.zone])
	}
	slope := b.slopes[patch]
	y := 1 / (slope + b.apart/2/kappa)
	j := line
	for range 4 {
		drop, rises := b.law.Drop(j)
		step := (line - j - y*(drop-slope*j-volts)) / (1 + y*(rises-slope))
		j += step
		if math.Abs(step) <= near*math.Abs(j) {
			break
		}
	}
	return j
}
