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
	total, _ := sums(n, func(i int) (float64, float64) { return work(i), 0 })
	return total
}

// sums is sum for two totals at once.
func sums(n int, work func(int) (float64, float64)) (first, second float64) {
	shares := make([][2]float64, n)
	each(n, func(i int) { shares[i][0], shares[i][1] = work(i) })
	for _, s := range shares {
		first, second = first+s[0], second+s[1]
	}
	return first, second
}
