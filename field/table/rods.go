package table

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"evenwall/field"
)

// rods keeps the lumps of stretches of a few lengths; others are found between them.
type rods struct {
	film  float64 // kappa times the metal's resistance, m
	mutex sync.Mutex
	known map[field.Stretch]map[int]*field.Lumps
}

func newRods(film float64) *rods {
	return &rods{film: film, known: map[field.Stretch]map[int]*field.Lumps{}}
}

// Lengths between which lumps are found, and how far apart points on a rod may be.
const (
	shortest  = 0.006 // m
	ratio     = 1.2   // of a length to the next
	spaced    = 0.014 // m
	fewest    = 4
	longest   = 4.0 // m
	fewLength = shortest * ratio
)

// ends returns the lengths of plastic, in sleeve radii, that are looked up.
func ends() [6]float64 { return [6]float64{0, 0.3, 1, 2, 3.5, 6} }

// between returns the two looked-up lengths about x and the share of the second.
func between(x float64, least int) (low, high, share float64) {
	all := ends()
	if x >= all[len(all)-1] {
		return all[len(all)-1], all[len(all)-1], 0
	}
	k := least
	for x >= all[k+1] {
		k++
	}
	return all[k], all[k+1], math.Max(0, (x-all[k])/(all[k+1]-all[k]))
}

// pointsOn returns how many points a stretch of a length class carries.
func pointsOn(length float64) int { return max(fewest, 2+int(length/spaced)) }

// find returns the lumps of a stretch: cubics through those of four lengths, straight lines
// between those of the plastic's lengths.
func (r *rods) find(s field.Stretch) (*field.Lumps, error) {
	sleeve := math.Max(s.Sleeve, s.Radius)
	s.Film = r.film
	length := math.Max(s.Length, fewLength)
	x := math.Log(length/shortest) / math.Log(ratio)
	first := max(0, int(x)-1)
	n := pointsOn(shortest * math.Pow(ratio, float64(first+2)))
	below, above := [3]float64{}, [3]float64{}
	if s.Below > 0 {
		below[0], below[1], below[2] = between(s.Below/sleeve, 1)
	}
	above[0], above[1], above[2] = between(s.Above/sleeve, 0)
	out := &field.Lumps{Self: mat.NewSymDense(n, nil), Mean: mat.NewDense(n, n, nil), Shift: make([]float64, n), Spread: make([]float64, n)}
	for i := range 4 {
		weight := 1.0
		for k := range 4 {
			if k != i {
				weight *= (x - float64(first+k)) / float64(i-k)
			}
		}
		knot := s
		knot.Length = shortest * math.Pow(ratio, float64(first+i))
		for side := range 4 {
			b, a := side&1, side>>1
			w := weight * weightOf(below[2], b) * weightOf(above[2], a)
			if w == 0 {
				continue
			}
			knot.Below, knot.Above = below[b]*sleeve, above[a]*sleeve
			l, err := r.at(knot, n)
			if err != nil {
				return nil, err
			}
			addTo(out, l, w, knot.Length/length)
		}
	}
	return out, nil
}

func weightOf(second float64, which int) float64 {
	if which == 1 {
		return second
	}
	return 1 - second
}

// addTo adds lumps with a weight; scale is their length over the one wanted, by which
// potentials per current fall.
func addTo(out, l *field.Lumps, weight, scale float64) {
	floats.AddScaled(out.Self.RawSymmetric().Data, weight*scale, l.Self.RawSymmetric().Data)
	floats.AddScaled(out.Mean.RawMatrix().Data, weight, l.Mean.RawMatrix().Data)
	floats.AddScaled(out.Shift, weight, l.Shift)
	floats.AddScaled(out.Spread, weight, l.Spread)
}

// at returns the lumps of a looked-up stretch, less what its image at its points would
// make: that is added for the rod as it hangs.
func (r *rods) at(s field.Stretch, n int) (*field.Lumps, error) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	if l := r.known[s][n]; l != nil {
		return l, nil
	}
	last := ends()[len(ends())-1] * math.Max(s.Sleeve, s.Radius)
	modelled := s
	modelled.Endless = s.Above >= last*0.999
	l, err := field.NewLumps(modelled, n)
	if err != nil {
		return nil, err
	}
	if !modelled.Endless {
		for i := range n {
			for k := i; k < n; k++ {
				d := 2*s.Above + s.Length*(2-float64(i+k)/float64(n-1)) - l.Shift[i] - l.Shift[k]
				l.Self.SetSym(i, k, l.Self.At(i, k)-ringed(d*d, d*d, s.Radius, d*d, s.Radius))
			}
		}
	}
	if r.known[s] == nil {
		r.known[s] = map[int]*field.Lumps{}
	}
	r.known[s][n] = l
	return l, nil
}
