package table

import "math"

// bias is the zones of one layout: what their law takes besides its slope.
type bias struct {
	*zones
	volts  []float64 // by zone
	from   []float64 // current density by the nodes' currents, A/m²
	j      []float64 // with the zones' volts, A/m²
	atNode []float32 // V at the layout's nodes
}

func newBias(z *zones) *bias {
	n := len(z.centre)
	return &bias{zones: z, volts: make([]float64, n), from: make([]float64, n), j: make([]float64, n)}
}

// How the zones are settled: zone by zone, each with the others as they are.
const (
	mostSweeps  = 12
	leastChange = 2e-4 // V
)

// settle finds the zones' volts for the nodes' currents.
func (b *bias) settle(w *work) {
	n := len(b.centre)
	clear(b.from)
	for k, node := range w.nodes {
		q := float64(w.charge[k])
		for z, v := range b.felt[int(node)*n : int(node+1)*n] {
			b.from[z] += q * float64(v)
		}
	}
	copy(b.j, b.from)
	for z, v := range b.volts {
		b.add(z, v)
	}
	for range mostSweeps {
		change := 0.0
		for z := range b.volts {
			change = math.Max(change, b.one(z))
		}
		if change < leastChange {
			break
		}
	}
	b.nodes(w)
}

// add adds what more volts of a zone do.
func (b *bias) add(zone int, volts float64) {
	n := len(b.j)
	for i, v := range b.mean[zone*n : (zone+1)*n] {
		b.j[i] += volts * float64(v)
	}
}

// one makes the law hold in one zone and returns by how much its volts changed. Its volts v
// and current density j are on a falling line, and v + slope j is the law's drop, which
// rises: Newton's rule, and j/10 where it would pass rest.
func (b *bias) one(zone int) float64 {
	own := float64(b.mean[zone*len(b.j)+zone])
	j, volts, slope := b.j[zone], b.volts[zone], b.slope[zone]
	alone := j - own*volts
	for range 8 {
		drop, rises := b.law.Drop(j)
		next := j - (alone+own*(drop-slope*j)-j)/(own*(rises-slope)-1)
		moved := math.Abs(next - j)
		j = next
		if moved <= 1e-4*math.Abs(j) {
			break
		}
	}
	drop, _ := b.law.Drop(j)
	change := drop - slope*j - volts
	b.volts[zone] += change
	b.add(zone, change)
	return math.Abs(change)
}

// nodes finds the volts at the layout's nodes.
func (b *bias) nodes(w *work) {
	n := len(b.volts)
	b.atNode = resize(b.atNode, len(w.nodes))
	for k, node := range w.nodes {
		sum := 0.0
		for z, v := range b.zones.volts[int(node)*n : int(node+1)*n] {
			sum += b.volts[z] * float64(v)
		}
		b.atNode[k] = float32(sum)
	}
}

// local returns a patch's current density with what its law takes, where that differs from
// what its zones do: the wall's unevenness within a zone meets the resistance of the liquid
// over about half the distance between zones. line is the current density by the zones.
func (b *bias) local(patch int, line, kappa float64) float64 {
	slope, volts := 0.0, 0.0
	for _, k := range b.shares[patch] {
		slope += k.value * b.slope[k.zone]
		volts += k.value * b.volts[k.zone]
	}
	y := 1 / (slope + b.apart/2/kappa)
	j := line
	for range 4 {
		drop, rises := b.law.Drop(j)
		step := (line - j - y*(drop-slope*j-volts)) / (1 + y*(rises-slope))
		j += step
		if math.Abs(step) <= 1e-3*math.Abs(j) {
			break
		}
	}
	return j
}
