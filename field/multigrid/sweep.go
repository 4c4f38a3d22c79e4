package multigrid

// colour is a half of the cells: no two of a colour are neighbours.
type colour bool

const (
	red   colour = false // i+j+k even
	black colour = true  // i+j+k odd
)

// sweep is where the vectors of a sweep and the swath's figures begin. Assembly knows its layout.
type sweep struct {
	own, rhs, out, pack *float32
	unit, under         float32
}

// relax makes the equations of one colour's cells in the swath hold exactly, one Gauss–Seidel half
// sweep of A x = b.
func relax(a *Operator, w *swath, x, b []float32, c colour) {
	each(len(w.parts), func(p int) { relaxStretches(a, w, w.parts[p].stretches, x, b, c) })
}

// start sets x to b over the diagonal: on red cells what a half sweep makes of x = 0, and the
// black ones are next.
func start(a *Operator, x, b []float32) {
	each(len(a.all.parts), func(p int) {
		f, e := a.all.parts[p].first, a.all.parts[p].end
		out := x[f:e]
		rhs, d := b[f:e][:len(out)], a.Inverse[f:e][:len(out)]
		for i := range out {
			out[i] = rhs[i] * d[i]
		}
	})
}

// residual sets r to b − A x.
func residual(a *Operator, r, x, b []float32) {
	each(len(a.all.parts), func(p int) { residualStretches(a, a.all.parts[p].stretches, r, x, b) })
}

// Times sets y to A x.
func (a *Operator) Times(y, x []float64) {
	each(len(a.all.parts), func(p int) { timesStretches(a, a.all.parts[p].stretches, y, x) })
}

// relaxPlainly is relaxStretches without assembly.
func relaxPlainly(a *Operator, stretches []stretch, x, b []float32, c colour) {
	for i := range stretches {
		s := &stretches[i]
		n := s.first
		if s.odd != bool(c) {
			n++
		}
		for ; n < s.first+s.n; n += 2 {
			v0, v1, v2, v3, v4, v5 := x[n-1], x[n+1], x[n+s.step[0]], x[n+s.step[1]], x[n+s.step[2]], x[n+s.step[3]]
			if s.plain {
				x[n] = (b[n] + a.unit*(((v0+v1)+(v2+v3))+(v4+v5))) * a.under
				continue
			}
			x[n] = (b[n] + a.Ahead[0][n-1]*v0 + a.Ahead[0][n]*v1 + a.back[0][n]*v2 + a.Ahead[1][n]*v3 +
				a.back[1][n]*v4 + a.Ahead[2][n]*v5) * a.Inverse[n]
		}
	}
}

// residualPlainly is residualStretches without assembly.
func residualPlainly(a *Operator, stretches []stretch, r, x, b []float32) {
	applyPlainly(a, stretches, r, x)
	for i := range stretches {
		s := &stretches[i]
		for n := s.first; n < s.first+s.n; n++ {
			r[n] = b[n] - r[n]
		}
	}
}

// applyPlainly sets y to A x, without assembly: by differences, so that no current is lost to the
// rounding of the diagonal.
func applyPlainly[T Real](a *Operator, stretches []stretch, y, x []T) {
	for i := range stretches {
		s := &stretches[i]
		for n := s.first; n < s.first+s.n; n++ {
			own := x[n]
			d0, d1, d2 := own-x[n-1], own-x[n+1], own-x[n+s.step[0]]
			d3, d4, d5 := own-x[n+s.step[1]], own-x[n+s.step[2]], own-x[n+s.step[3]]
			if s.plain {
				y[n] = T(a.unit) * (((d0 + d1) + (d2 + d3)) + (d4 + d5))
				continue
			}
			y[n] = T(a.Wall[n])*own + T(a.Ahead[0][n-1])*d0 + T(a.Ahead[0][n])*d1 + T(a.back[0][n])*d2 +
				T(a.Ahead[1][n])*d3 + T(a.back[1][n])*d4 + T(a.Ahead[2][n])*d5
		}
	}
}
