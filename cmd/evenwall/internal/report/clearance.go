package report

import "fmt"

// Clearance is how near bare metal comes to steel.
type Clearance struct {
	MinMM      float64     `json:"min_mm"`   // under the liquid, to wetted wall or baffle, nominal
	RimMM      float64     `json:"rim_mm"`   // all bare metal to all steel, nominal
	WorstMM    float64     `json:"worst_mm"` // the least of both over the tolerance
	Anode      string      `json:"anode"`
	AnodeMM    Point       `json:"anode_mm"` // where min_mm is, on the metal
	WallMM     Point       `json:"wall_mm"`  // and on the wall
	Worst      *Worst      `json:"worst,omitempty"`
	Gaps       []Gap       `json:"gaps,omitempty"`
	Insertions []Insertion `json:"getting_in,omitempty"`
	ByHand     []string    `json:"by_hand,omitempty"`
}

// Worst says what the worst case takes in and where it is.
type Worst struct {
	PositionMM float64 `json:"position_mm"` // the tolerance: any way at the rim
	TiltDeg    float64 `json:"tilt_deg"`    // about the rim
	DepthMM    float64 `json:"depth_mm"`    // along the rod
	DroopMM    float64 `json:"droop_mm"`    // of the tip, by the rod's own weight
	SludgeMM   float64 `json:"sludge_mm"`   // on the floor
	Anode      string  `json:"anode"`
	AnodeMM    Point   `json:"anode_mm"`
	WallMM     Point   `json:"wall_mm"`
	FoundMM    float64 `json:"found_mm"`         // of the placement below; worst_mm is a bound no placement goes under
	FreeMM     float64 `json:"unheld_mm"`        // without what spacers and guard keep off
	How        string  `json:"how"`              // the placement in words
	Held       bool    `json:"held_by_fittings"` // spacers or guard touch before the metal comes so near
}

// Gap is how near a rod comes to one thing.
type Gap struct {
	Anode   string   `json:"anode"`
	Part    string   `json:"part"` // bare metal, sleeve or fittings
	To      string   `json:"to"`
	MM      float64  `json:"mm"`
	WorstMM *float64 `json:"worst_mm,omitempty"` // nil: not computed
}

func (t *table) clearance(c *Clearance) {
	if c == nil {
		return
	}
	t.heading("clearance of bare metal to steel")
	t.row("under the liquid", "%s: %s at %s to the wall at %s", mm1(c.MinMM), c.Anode, c.AnodeMM.text(), c.WallMM.text())
	t.row("rim and dry wall too", "%s", mm1(c.RimMM))
	t.worst(c)
	for i, g := range c.Gaps {
		label := ""
		if i == 0 {
			label = "one by one"
		}
		worst := ""
		if g.WorstMM != nil {
			worst = fmt.Sprintf(", at worst %s", mm1(*g.WorstMM))
			if c.Worst != nil && c.Worst.Held {
				worst += " without what holds it off"
			}
		}
		t.row(label, "%s, %s to %s: %s%s", g.Anode, g.Part, g.To, mm1(g.MM), worst)
	}
	t.insertions(c.Insertions)
	if len(c.ByHand) == 0 {
		t.row("check by hand", "dry, tank empty: ohmmeter from rod to tank must show open; then wiggle the rod")
		return
	}
	t.lines("check it dry, tank empty, supply off", c.ByHand)
}

// worst says what the least of both is when the hand is off.
func (t *table) worst(c *Clearance) {
	w := c.Worst
	if w == nil {
		t.row("least of both", "%s, nominal: the job states no search.tolerance", mm1(c.WorstMM))
		return
	}
	t.row("worst case", "%s: %s at %s to steel at %s", mm1(c.WorstMM), w.Anode, w.AnodeMM.text(), w.WallMM.text())
	t.row("takes in", "%s any way at the rim, %s degrees any way about it, %s along the rod, all at once", mm1(w.PositionMM), figure(w.TiltDeg), mm1(w.DepthMM))
	if w.DroopMM >= 0.05 || w.SludgeMM > 0 {
		t.row("", "droop of the tip %s, %s on the floor", mm1(w.DroopMM), mm1(w.SludgeMM))
	}
	t.row("found there", "%s with the rod %s", mm1(w.FoundMM), w.How)
	if w.Held {
		t.row("spacers and guard", "without them the metal would come to %s", mm1(w.FreeMM))
	}
}
