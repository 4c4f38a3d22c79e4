package multigrid

// Sweeps over a run, four cells at a time, in the vector instructions that every amd64 has, to the
// last bit what the plain loops do.

//go:noescape
func relaxWide(r *wideRun, n int, odd bool)

//go:noescape
func residualWide(r *wideRun, n int)

// wide is how many cells of a run are taken four at a time.
func wide(n int) int { return n &^ 3 }
