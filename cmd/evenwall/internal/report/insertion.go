package report

// Insertion is how an anode goes in through its opening, or what stops it.
type Insertion struct {
	Anode    string   `json:"anode"`
	Through  string   `json:"through"`
	In       bool     `json:"goes_in"`
	Straight bool     `json:"straight"` // along itself, without a turn
	SpareMM  float64  `json:"spare_mm"` // least distance to steel on the way, as far as it was looked at
	Steps    []string `json:"steps,omitempty"`
	Stop     string   `json:"stopped_by,omitempty"`
}

// insertions says how the anodes go in.
func (t *table) insertions(all []Insertion) {
	if len(all) == 0 {
		return
	}
	t.heading("getting it in")
	for _, e := range all {
		if !e.In {
			t.row(e.Anode, "does NOT go in through the %s: %s", e.Through, e.Stop)
			continue
		}
		t.row(e.Anode, "goes in through the %s, at least %s from steel on the way", e.Through, mm1(e.SpareMM))
		for i, step := range e.Steps {
			t.row("", "%d. %s", i+1, step)
		}
	}
}
