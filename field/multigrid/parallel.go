package multigrid

import (
	"runtime"
	"sync"
	"sync/atomic"
	"time"
)

// each calls work(0) … work(n-1), spread over the cores. Calls must not depend on each
// other.
func each(n int, work func(int)) {
	workers := min(cores(), n)
	if workers <= 1 || !theCrew.mutex.TryLock() {
		for i := range n { // alone, or beside another solve, which has the other cores already
			work(i)
		}
		return
	}
	defer theCrew.mutex.Unlock()
	theCrew.do(newJob(workers, n, work))
}

// cores returns how many goroutines work side by side.
var cores = func() int { return min(runtime.GOMAXPROCS(0), runtime.NumCPU()) }

// job is calls that are spread over workers.
type job struct {
	work   func(int)
	shares []share
	busy   atomic.Int32 // helpers at it
}

// share is a worker's part of the calls. Neighbouring calls stay on one core, which has at hand what
// they share.
type share struct {
	next atomic.Int64
	end  int64
	_    [48]byte // so that workers do not write to one cache line
}

func newJob(workers, n int, work func(int)) *job {
	j := &job{work: work, shares: make([]share, workers)}
	for w := range j.shares {
		j.shares[w].next.Store(int64(w * n / workers))
		j.shares[w].end = int64((w + 1) * n / workers)
	}
	return j
}

// take makes the calls of worker w's share, and then what is left of the others'.
func (j *job) take(w int) {
	for i := range j.shares {
		s := &j.shares[(w+i)%len(j.shares)]
		for k := s.next.Add(1) - 1; k < s.end; k = s.next.Add(1) - 1 {
			j.work(int(k))
		}
	}
}

// crew is goroutines that help with one job after the other. A cycle is a few dozen jobs of some
// tens of microseconds, which is what it takes to wake a goroutine on another core: so a helper
// watches for the next job for a while before it sleeps, and nobody waits for one that has not begun.
type crew struct {
	mutex   sync.Mutex // held by whoever has a job
	job     atomic.Pointer[job]
	helpers []*helper
}

var theCrew crew

// watching is how long a helper watches for the next job.
const watching = 200 * time.Microsecond

type helper struct {
	asleep atomic.Bool
	wake   chan struct{}
}

// do makes a job's calls, with the helpers that come to it.
func (c *crew) do(j *job) {
	for len(c.helpers) < len(j.shares)-1 {
		h := &helper{wake: make(chan struct{}, 1)}
		c.helpers = append(c.helpers, h)
		go c.help(h, len(c.helpers))
	}
	c.job.Store(j)
	for _, h := range c.helpers[:len(j.shares)-1] {
		if h.asleep.CompareAndSwap(true, false) {
			h.wake <- struct{}{}
		}
	}
	j.take(0)
	c.job.Store(nil)
	for j.busy.Load() > 0 { // a call that a helper has begun
		runtime.Gosched()
	}
}

// help is what the w-th helper does for ever.
func (c *crew) help(h *helper, w int) {
	var last *job
	fresh := func() *job {
		if j := c.job.Load(); j != nil && j != last {
			return j
		}
		return nil
	}
	for {
		for begun, looks := time.Now(), 0; time.Since(begun) < watching; looks++ {
			if j := fresh(); j != nil {
				j.busy.Add(1)
				j.take(w)
				j.busy.Add(-1)
				last, begun = j, time.Now()
			}
			if looks%64 == 63 {
				runtime.Gosched()
			}
		}
		h.asleep.Store(true)
		if fresh() == nil || !h.asleep.CompareAndSwap(true, false) {
			last = nil
			<-h.wake
		}
	}
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
