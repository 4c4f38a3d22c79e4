package field

import (
	"math"
	"runtime"
	"slices"
	"sync"

	"evenwall/field/electrode"
	"evenwall/geometry"
	"evenwall/geometry/lattice"
)

// Recovery turns potentials at the liquid cells into current densities on patches. At a
// cell at distance s from the wall the quantity
//
//	f = kappa phi / (kappa R + s),  R the law's volts over its current density,
//
// is smooth and goes to the wall's current density as s goes to 0. It is fitted round each
// patch by a quadratic in space (least squares, ten terms) and averaged over the patch.
type Recovery struct {
	Patches *Patches
	samples [][]sample // of blocks of patches
	end     []int32    // of patch i's samples in its block
	rim     []bool     // of patch i: the wall ends within reach, and with it what a fit can follow
	tree    *geometry.Tree
	near    *nearness
}

// sample is a cell's share in a patch.
type sample struct {
	cell   int32
	weight float32
	s      float32 // distance from the cell to the wall that the patch is part of, m
}

// Radii in spacings.
const (
	fitRadius = 2.9
	wallReach = 3.6 // how far from the wall cells are looked at
)

// turned is the least cosine between the wall's normals at a patch and at a cell's
// nearest point for both to count as one wall: 60 degrees.
const turned = 0.5

// NewRecovery finds the weights for the liquid's cells. tree holds the steel's facets.
func NewRecovery(q *lattice.Liquid, steel *Steel, tree *geometry.Tree) *Recovery {
	return newRecoveryOn(q, steel, tree, func() *Patches { return NewPatches(steel, q.Lattice.H) })
}

// newRecoveryOn is NewRecovery on patches that may be those of a coarser lattice. They are made, on one
// core, while the cells' nearest wall is found.
func newRecoveryOn(q *lattice.Liquid, steel *Steel, tree *geometry.Tree, patchesOf func() *Patches) *Recovery {
	var patches *Patches
	var made sync.WaitGroup
	made.Go(func() { patches = patchesOf() })
	near := newNearness(q, steel, tree)
	made.Wait()
	return recoveryOf(q, tree, near, patches)
}

// recoveryOf finds the weights of patches.
func recoveryOf(q *lattice.Liquid, tree *geometry.Tree, near *nearness, patches *Patches) *Recovery {
	r := &Recovery{Patches: patches, tree: tree, near: near}
	n := len(r.Patches.All)
	r.samples, r.end, r.rim = make([][]sample, (n+recoveryBlock-1)/recoveryBlock), make([]int32, n), make([]bool, n)
	fits := sync.Pool{New: func() any { return new(fit) }}
	spread(len(r.samples), func(b int) {
		f := fits.Get().(*fit)
		f.out = f.out[:0]
		for i := b * recoveryBlock; i < min(n, (b+1)*recoveryBlock); i++ {
			f.patch(q, near, r.Patches, i)
			r.end[i], r.rim[i] = int32(len(f.out)), f.rim
		}
		r.samples[b] = slices.Clone(f.out)
		fits.Put(f)
	})
	return r
}

// recoveryBlock is how many patches one core takes at a time.
const recoveryBlock = 512

// spread calls work(0) … work(n-1) over the cores.
func spread(n int, work func(int)) {
	var next sync.Mutex
	i := 0
	var done sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		done.Go(func() {
			for {
				next.Lock()
				mine := i
				i++
				next.Unlock()
				if mine >= n {
					return
				}
				work(mine)
			}
		})
	}
	done.Wait()
}

// of returns the samples of patch i.
func (r *Recovery) of(i int) []sample {
	from := int32(0)
	if i%recoveryBlock > 0 {
		from = r.end[i-1]
	}
	return r.samples[i/recoveryBlock][from:r.end[i]]
}

// wall returns the current density into each patch, A/m², before scaling, for the
// potentials phi at the cells. The law's volts are found together with the current.
func (r *Recovery) wall(phi []float64, in bath) []float64 {
	out := make([]float64, len(r.Patches.All))
	const block = 2048
	spread((len(out)+block-1)/block, func(b int) {
		for i := b * block; i < min(len(out), (b+1)*block); i++ {
			out[i] = r.density(i, phi, in)
		}
	})
	return out
}

// bath is what the recovery knows of liquid and law.
type bath struct {
	kappa  float64   // S/m
	thinly []float32 // by cell: 1 over the conductivity as a share of kappa; nil: 1
	law    electrode.Law
}

func (b *bath) thin(cell int32) float64 {
	if b.thinly == nil {
		return 1
	}
	return float64(b.thinly[cell])
}

// density returns one patch's current density, A/m²: the law's chord R follows from it and
// changes slowly with it. Newton's rule on the logarithms of j and fit(R(j)), in which a law of
// overpotential is nearly straight, needs four or five fits. On j itself it may leave for another
// root where cells stand on the wall: their kappa phi / s has no bound as R goes to 0.
func (r *Recovery) density(i int, phi []float64, in bath) float64 {
	samples, kappa, law := r.of(i), in.kappa, in.law
	fit := func(resistance float64) (j, slope float64) {
		for _, s := range samples {
			under := 1 / (kappa*resistance + float64(s.s)*in.thin(s.cell))
			part := float64(s.weight) * phi[s.cell] * under
			j, slope = j+part, slope-part*under
		}
		return j * kappa, slope * kappa * kappa
	}
	chord, slope := law.Drop(1)
	j, _ := fit(chord)
	if j == 0 || chord == slope { // a plain resistance
		return j
	}
	sign, u := math.Copysign(1, j), math.Log(math.Abs(j))
	for range 40 {
		drop, slope := law.Drop(sign * math.Exp(u))
		chord := drop / (sign * math.Exp(u))
		f, by := fit(chord)
		if f*sign <= 0 {
			return f
		}
		// where weights of both signs make the fit rise faster than j, as it is
		step := math.Log(f*sign) - u
		if rate := by / f * (slope - chord); rate < 1 {
			step /= 1 - rate
		}
		step = min(max(step, -mostStep), mostStep)
		u += step
		if math.Abs(step) <= 1e-6 {
			break
		}
	}
	return sign * math.Exp(u)
}

// mostStep is by how much the logarithm of a current density changes in a step at most.
const mostStep = 3.0
