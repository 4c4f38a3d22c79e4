package station

// Band is the total time of a schedule under each of the three laws, in the order of Laws.
type Band [3]Finish

// Spread returns the total time under each law when positions with the given current
// densities, A/m², one slice a position, are kept for times in the given proportion.
func Spread(p Patches, a Aim, densities [][]float64, seconds []float64) Band {
	var band Band
	total := sum(seconds)
	if total <= 0 {
		return band
	}
	for k, law := range Laws() {
		mean := make([]float64, len(p.Area))
		for s, j := range densities {
			for i, v := range j {
				mean[i] += seconds[s] / total * law.Rate(a, v)
			}
		}
		band[k] = p.Finish(a, mean)
	}
	return band
}

// Ends returns the earliest and the latest of the times; ever is false when one of the
// laws gives none.
func (b Band) Ends() (earliest, latest float64, ever bool) {
	earliest, latest, ever = b[0].Seconds, b[0].Seconds, true
	for _, f := range b {
		ever = ever && f.Ever
		earliest, latest = min(earliest, f.Seconds), max(latest, f.Seconds)
	}
	return earliest, latest, ever
}
