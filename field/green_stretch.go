package field

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"evenwall/geometry"
)

// Stretch is a bare stretch of a straight rod with what stands at its ends, in liquid
// without end but for the surface that the rod may come through.
type Stretch struct {
	Radius, Sleeve float64 // of the metal, and of the plastic's outside, m
	Flat           bool    // the rod's end is cut flat
	Length         float64 // bare, m; counted from the pole of the rod's end where Below is 0
	Below          float64 // plastic between the rod's end and the bare stretch, m; 0: none
	Above          float64 // plastic between the bare stretch and the liquid's surface, m
	Endless        bool    // the surface is too far to matter; Above does not count
	Film           float64 // kappa times the metal's resistance, m
}

// Lumps is a stretch by a few points on its axis, spread evenly from end to end: a current
// at each point, and the potential asked for there.
type Lumps struct {
	Self *mat.SymDense // kappa times the volts from metal to far off per current of each point, 1/m
	Mean *mat.Dense    // 1/m: times Self's volts, current density over a diameter of length about each point

	// What each point's current looks like from afar, the plastic beside the stretch and all:
	// the middle of its sources, m above the point, and the mean of their distance from there
	// along the axis squared less half of that off the axis squared, m².
	Shift, Spread []float64
}

// plasticSeen is the length of plastic, in sleeve radii, that stands for more.
const plasticSeen = 6.0

// NewLumps reduces the band model of a stretch to n points: potentials along it are taken
// as running through the points' by cubics, and the bands' currents shared out likewise.
func NewLumps(s Stretch, n int) (*Lumps, error) {
	b := s.body()
	if b == nil || b.metal < n {
		return nil, fmt.Errorf("%d points on a bare stretch of %.1f mm: it is too short", n, 1000*s.Length)
	}
	own := mat.NewSymDense(b.metal, nil)
	for i := range b.metal {
		for k := i; k < b.metal; k++ {
			own.SetSym(i, k, b.self.At(i, k))
		}
		own.SetSym(i, i, own.At(i, i)+s.Film/b.areas[i])
	}
	var lu mat.LU
	lu.Factorize(own)
	hats := s.hats(b, n)
	var answer, currents, volts mat.Dense // per potential at the points
	if err := lu.SolveTo(&answer, false, hats); err != nil {
		return nil, fmt.Errorf("a bare stretch of %.1f mm cannot be reckoned: %w", 1000*s.Length, err)
	}
	currents.Mul(hats.T(), &answer)
	if err := volts.Inverse(&currents); err != nil {
		return nil, fmt.Errorf("a bare stretch of %.1f mm cannot be reckoned at %d points: %w", 1000*s.Length, n, err)
	}
	out := &Lumps{Self: symmetric(&volts), Mean: s.means(b, &answer)}
	s.afar(out, b, &answer, &volts)
	return out, nil
}

// PlasticBeside is how far from a bare stretch, in sleeve radii, plastic counts as the
// stretch's own.
const PlasticBeside = plasticReach

// afar sets what the points' currents look like from afar.
func (s *Stretch) afar(out *Lumps, b *body, answer, volts *mat.Dense) {
	var currents, sources mat.Dense
	currents.Mul(answer, volts)
	sources.Mul(b.sources, &currents)
	_, n := sources.Dims()
	beside := PlasticBeside * math.Max(s.Sleeve, s.Radius)
	out.Shift, out.Spread = make([]float64, n), make([]float64, n)
	for k := range n {
		even := s.Length * float64(k) / float64(n-1)
		for i := range b.bands {
			at := s.place(&b.bands[i])*s.Length - even
			if at+even < -beside || at+even > s.Length+beside {
				continue
			}
			_, radius := b.bands[i].middle()
			out.Shift[k] += sources.At(i, k) * at
			out.Spread[k] += sources.At(i, k) * (at*at - radius*radius/2)
		}
		out.Spread[k] -= out.Shift[k] * out.Shift[k]
	}
}

// rod returns the stretch as a plumb rod, and the mirror it comes through, if any.
func (s *Stretch) rod() (geometry.Rod, []geometry.Plane) {
	seen := plasticSeen * math.Max(s.Sleeve, s.Radius)
	r := geometry.Rod{Radius: s.Radius, Flat: s.Flat, Sleeve: s.Sleeve}
	below, length := math.Min(s.Below, seen), s.Length
	top, mirrors := below+length+seen, []geometry.Plane{}
	if !s.Endless {
		mirrors = []geometry.Plane{{Normal: geometry.V(0, 0, 1), Offset: below + length + s.Above}}
		top = below + length + s.Above + 1
	}
	r.Path = geometry.Straight(geometry.Vec{}, geometry.V(0, 0, top))
	r.Bare = []geometry.Span{{From: below, To: below + length}}
	return r, mirrors
}

func (s *Stretch) body() *body {
	r, mirrors := s.rod()
	bands := bandsOf(&r, 0, mirrors)
	if len(bands) == 0 {
		return nil
	}
	return newBody(bands, mirrors)
}

// place returns a band's place along the stretch, 0 at its lower end to 1.
func (s *Stretch) place(k *band) float64 {
	m, _ := k.middle()
	return (k.start + m - math.Min(s.Below, plasticSeen*math.Max(s.Sleeve, s.Radius))) / s.Length
}

// hats returns for each band the weights of the points' potentials at its middle: the cubic
// through the four points about it, a parabola or line where there are fewer.
func (s *Stretch) hats(b *body, n int) *mat.Dense {
	out := mat.NewDense(b.metal, n, nil)
	for i := range b.metal {
		x := s.place(&b.bands[i]) * float64(n-1)
		first, count := max(0, min(int(x)-1, n-4)), min(4, n)
		for k := range count {
			w := 1.0
			for m := range count {
				if m != k {
					w *= (x - float64(first+m)) / float64(k-m)
				}
			}
			out.Set(i, first+k, w)
		}
	}
	return out
}

// means returns the current density, times kappa, over a diameter of the stretch about each
// point, per volt at the points.
func (s *Stretch) means(b *body, answer *mat.Dense) *mat.Dense {
	_, n := answer.Dims()
	out := mat.NewDense(n, n, nil)
	half := math.Min(s.Radius, s.Length/2)
	for i := range n {
		at := s.Length * float64(i) / float64(n-1)
		at = math.Max(half, math.Min(s.Length-half, at))
		area := 0.0
		for k := range b.metal {
			if math.Abs(s.place(&b.bands[k])*s.Length-at) > half {
				continue
			}
			area += b.areas[k]
			for m := range n {
				out.Set(i, m, out.At(i, m)+answer.At(k, m))
			}
		}
		for m := range n {
			out.Set(i, m, out.At(i, m)/math.Max(area, 1e-12))
		}
	}
	return out
}
