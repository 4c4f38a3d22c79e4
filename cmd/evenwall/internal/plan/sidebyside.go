package plan

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// sideBySide calls do for 0 to n-1 on all cores and returns the first error by number.
func sideBySide(ctx context.Context, n int, do func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				if errs[i] = ctx.Err(); errs[i] == nil {
					errs[i] = do(i)
				}
			}
		})
	}
	group.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
