//go:build !amd64

package multigrid

func relaxStretches(a *Operator, _ *swath, s []stretch, x, b []float32, c colour) {
	relaxPlainly(a, s, x, b, c)
}

func residualStretches(a *Operator, s []stretch, r, x, b []float32) { residualPlainly(a, s, r, x, b) }

func timesStretches(a *Operator, s []stretch, y, x []float64) { applyPlainly(a, s, y, x) }

func collect(t *transfer, k *kin, residual []float32) { collectPlainly(t, k, 0, residual) }

func gather(t *transfer, s *stretch, b []float32) { gatherPlainly(t, s, b) }

func raise(k *kin, x, correction []float32) { raisePlainly(k, 0, x, correction) }
