package paper

// mostReserved is the share of a page that is kept free for wall that no layout reaches.
const mostReserved = 0.35

// unreached says which wall no layout reaches, and what it would take, as the layout noted it.
func (w *writer) unreached() {
	if len(w.Job.Unreached) == 0 {
		return
	}
	w.heading("Stays as it is: wall that no layout reaches")
	for _, note := range w.Job.Unreached {
		w.bullet("", note)
	}
}

// reserved is what unreached takes below the last stations, mm; 0 where it has pages of its own.
func (w *writer) reserved() float64 {
	if len(w.Job.Unreached) == 0 {
		return 0
	}
	const indent = boxSize + 2.0
	high := 3*w.step() + 4
	w.font("", w.body)
	for _, note := range w.Job.Unreached {
		high += float64(len(w.wrap(note, w.w-indent)))*w.step() + 0.6
	}
	if high > mostReserved*w.height {
		return 0
	}
	return high
}
