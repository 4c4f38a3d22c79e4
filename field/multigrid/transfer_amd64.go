package multigrid

// Families four at a time, to the last bit what the plain loops do.

func collect(t *transfer, k *kin, residual []float32) {
	v := sums4{&residual[0], &t.total[0], [3]*float32{&t.high[0][0], &t.high[1][0], &t.high[2][0]}}
	collectWide(&v, k)
	collectPlainly(t, k, k.n&^3, residual)
}

func gather(t *transfer, s *stretch, b []float32) {
	v := sums4{&b[0], &t.total[0], [3]*float32{&t.high[0][0], &t.high[1][0], &t.high[2][0]}}
	gatherWide(&v, s)
}

func raise(k *kin, x, correction []float32) {
	raiseWide(k, &x[0], &correction[0])
	raisePlainly(k, k.n&^3, x, correction)
}

// sums4 is where a fine level's residual, or the coarse level's right-hand side, begins, and the
// four sums of a transfer. Assembly knows its layout.
type sums4 struct {
	of, total *float32
	high      [3]*float32
}

//go:noescape
func collectWide(v *sums4, k *kin)

//go:noescape
func gatherWide(v *sums4, s *stretch)

//go:noescape
func raiseWide(k *kin, x, correction *float32)
