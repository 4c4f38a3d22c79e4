package render

import "math"

// labelPlaces finds room for labels on lines.
type labelPlaces struct {
	placed []label
	keep   []point // places to stay off
}

// label is a text centred on a place.
type label struct {
	text string
	at   point
}

// add puts the text on the line where it is farthest from everything else, if that is far
// enough to read it.
func (l *labelPlaces) add(line []point, text string) {
	const apart, short = 62.0, 80.0 // layout units
	if lengthOf(line) < short {
		return
	}
	best, most := point{}, apart
	for i := len(line) / 8; i < len(line)-len(line)/8; i++ {
		nearest := math.Inf(1)
		for _, p := range l.keep {
			nearest = min(nearest, 1.5*line[i].sub(p).norm())
		}
		for _, other := range l.placed {
			nearest = min(nearest, line[i].sub(other.at).norm())
		}
		nearest = min(nearest, 3*apart) // beyond this any place is as good: take the first
		if nearest > most {
			best, most = line[i], nearest
		}
	}
	if most > apart {
		l.placed = append(l.placed, label{text, best})
	}
}

// lengthOf returns the length of a line.
func lengthOf(line []point) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += line[i].sub(line[i-1]).norm()
	}
	return sum
}

// runs returns the parts of a line whose points pass the test.
func runs(line []point, in func(point) bool) [][]point {
	var out [][]point
	var run []point
	for _, p := range line {
		if in(p) {
			run = append(run, p)
			continue
		}
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	if len(run) > 1 {
		out = append(out, run)
	}
	return out
}
