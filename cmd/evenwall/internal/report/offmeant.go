package report

import (
	"fmt"
	"math"
)

// OffMeant is how a layout does when something is other than meant: each thing alone, and the
// worst of each at once. The hours are those in which as much wall has its charge as the plan
// brings, nil when it never has.
type OffMeant struct {
	PositionMM          float64 `json:"position_mm"`
	TiltDeg             float64 `json:"tilt_deg"`
	DepthMM             float64 `json:"depth_mm"`
	HandAssumed         bool    `json:"hand_assumed"` // the job states no tolerance of the hand
	LevelMM             float64 `json:"level_mm"`
	ConductivityPercent float64 `json:"conductivity_percent"`
	Meant               Odd     `json:"as_meant"`
	Hand                Odd     `json:"hand_at_worst"`
	All                 Odd     `json:"all_at_worst"`
	Cases               []Odd   `json:"cases"` // the costliest first
}

// Odd is one case of something other than meant.
type Odd struct {
	What    string   `json:"what"`
	Matter  string   `json:"matter,omitempty"`        // position, tilt, depth, level, conductivity, crust or together
	Size    float64  `json:"off_mm_or_deg,omitempty"` // degrees for tilt
	Hours   *float64 `json:"hours_total"`
	TenDays float64  `json:"reached_fraction_after_10_days"`
}

// offMeant says how the layout does when it is hung other than meant.
func (t *table) offMeant(o *OffMeant) {
	if o == nil {
		return
	}
	t.heading("when it is not quite as planned")
	hand := fmt.Sprintf("%.3g mm at the rim, %.3g degrees of lean, %.3g mm of depth", o.PositionMM, o.TiltDeg, o.DepthMM)
	if o.HandAssumed {
		hand += ": the usual hand, as the job states no search.tolerance of it"
	}
	t.row("the hand off by", "%s", hand)
	t.row("the bath off by", "%.3g mm of level, %.3g %% of conductivity", o.LevelMM, o.ConductivityPercent)
	t.row("as planned", "%s", o.Meant.does())
	t.row("one of these off", "%s", o.span())
	t.row("the hand at worst", "in place, lean and depth at once: %s", o.Hand.does())
	t.row("all at worst", "the rod's current halved by crust too: %s", o.All.does())
	label := "costs the most"
	for _, c := range o.costliest() {
		t.row(label, "%s", c.costs(&o.Meant))
		label = ""
	}
}

// span says between what the single cases lie, and the plan.
func (o *OffMeant) span() string {
	low, high, ever := math.Inf(1), 0.0, true
	least, most := o.Meant.TenDays, o.Meant.TenDays
	for _, c := range append([]Odd{o.Meant}, o.Cases...) {
		least, most = math.Min(least, c.TenDays), math.Max(most, c.TenDays)
		if c.Hours == nil {
			ever = false
			continue
		}
		low, high = math.Min(low, *c.Hours), math.Max(high, *c.Hours)
	}
	reach := fmt.Sprintf("%s to %s of the reachable wall in 10 days", percent(least), percent(most))
	switch {
	case math.IsInf(low, 1):
		return reach
	case !ever:
		return fmt.Sprintf("%s h to never as much as planned; %s", figure(low), reach)
	}
	return fmt.Sprintf("%s to %s h; %s", figure(low), figure(high), reach)
}

// does says what a case comes to.
func (c *Odd) does() string {
	reach := percent(c.TenDays) + " of the reachable wall in 10 days"
	if c.Hours == nil {
		return "never as much as planned; " + reach
	}
	return figure(*c.Hours) + " h; " + reach
}

// costliest returns the costliest case of each matter, the costliest matter first.
func (o *OffMeant) costliest() []Odd {
	var out []Odd
	seen := map[string]bool{}
	for _, c := range o.Cases {
		if !seen[c.Matter] {
			seen[c.Matter] = true
			out = append(out, c)
		}
	}
	return out
}

// costs says what a case costs against the plan, and for each mm or degree where it is so far
// off.
func (c *Odd) costs(meant *Odd) string {
	unit := "mm"
	if c.Matter == "tilt" {
		unit = "degree"
	}
	each := func(x float64, of string) string {
		if c.Size == 0 {
			return ""
		}
		return fmt.Sprintf(" (%s %s for each %s)", figure(x/c.Size), of, unit)
	}
	lost := meant.TenDays - c.TenDays
	switch {
	case c.Hours != nil && meant.Hours != nil && *c.Hours > *meant.Hours:
		return fmt.Sprintf("%s: %s h instead of %s h%s", c.What, figure(*c.Hours), figure(*meant.Hours), each(*c.Hours-*meant.Hours, "h"))
	case c.Hours == nil && lost > 0:
		return fmt.Sprintf("%s: never as much as planned, %s of the reachable wall in 10 days instead of %s%s", c.What, percent(c.TenDays), percent(meant.TenDays), each(100*lost, "%"))
	case c.Hours == nil:
		return fmt.Sprintf("%s: never as much as planned", c.What)
	}
	return c.What + ": costs nothing"
}
