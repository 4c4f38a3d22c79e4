package multigrid

// Sweeps over stretches, four cells at a time (two in float64), in the vector instructions that
// every amd64 has; to the last bit what the plain loops do.

func relaxStretches(a *Operator, w *swath, s []stretch, x, b []float32, c colour) {
	if len(s) > 0 {
		v := sweep{&x[0], &b[0], &x[0], &w.pack[0], a.unit, a.under}
		relaxWide(&v, &s[0], len(s), bool(c))
	}
}

func residualStretches(a *Operator, s []stretch, r, x, b []float32) {
	if len(s) > 0 {
		v := sweep{&x[0], &b[0], &r[0], &a.all.pack[0], a.unit, a.under}
		residualWide(&v, &s[0], len(s))
	}
}

func timesStretches(a *Operator, s []stretch, y, x []float64) {
	if len(s) > 0 {
		v := sweep{nil, nil, nil, &a.all.pack[0], a.unit, a.under}
		timesWide(&v, &s[0], len(s), &y[0], &x[0])
	}
}

//go:noescape
func relaxWide(v *sweep, s *stretch, count int, black bool)

//go:noescape
func residualWide(v *sweep, s *stretch, count int)

//go:noescape
func timesWide(v *sweep, s *stretch, count int, y, x *float64)
