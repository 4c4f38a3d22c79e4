package multigrid

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// each calls work(0) … work(n-1), spread over the cores. Calls must not depend on each
// other.
func each(n int, work func(int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	if workers <= 1 {
		for i := range n {
			work(i)
		}
		return
	}
	var next atomic.Int64
	var done sync.WaitGroup
	for range workers {
		done.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	done.Wait()
}

// sum adds up work(0) … work(n-1) in that order, whichever core computes them.
func sum(n int, work func(int) float64) float64 {
	if n == 1 {
		return work(0)
	}
	shares := make([]float64, n)
	each(n, func(i int) { shares[i] = work(i) })
	total := 0.0
	for _, s := range shares {
		total += s
	}
	return total
}
