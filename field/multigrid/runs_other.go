//go:build !amd64

package multigrid

func relaxWide(*wideRun, int, bool) {}

func residualWide(*wideRun, int) {}

// wide is how many cells of a run are taken four at a time.
func wide(int) int { return 0 }
