package report

import (
	"fmt"
	"strings"
)

// Unreached is a connected piece of wall that no layout within the job's limits brings the aim's
// least, and what it would take.
type Unreached struct {
	AreaM2   float64    `json:"area_m2"`
	Dry      bool       `json:"dry"`              // above the liquid, or under air that stays
	Side     string     `json:"side"`             // what wall it is: bottom, front left, baffle
	Behind   string     `json:"behind,omitempty"` // what stands between it and the openings that a rod hangs in
	Round    string     `json:"round,omitempty"`  // the opening that it lies about
	Place    string     `json:"place"`            // of a point in its midst, from the middle of the filler
	PointMM  Point      `json:"point_mm"`
	HeightMM [2]float64 `json:"height_mm"`  // lowest and highest, above the lowest inside point, plumb
	Takes    []string   `json:"would_take"` // in words, the least trouble first
}

// Words says where it is.
func (u *Unreached) Words() string {
	words := cm2(u.AreaM2)
	if u.Dry {
		words += " that stays dry"
	}
	words += ": " + u.Side
	if u.Behind != "" {
		words += ", behind " + u.Behind
	}
	if u.Round != "" {
		words += ", round the opening " + u.Round
	}
	return words + fmt.Sprintf("; about %s from the middle of the filler, %s; %.0f to %.0f mm above the lowest inside point",
		u.Place, u.PointMM.text(), u.HeightMM[0], u.HeightMM[1])
}

// Note says on one line where it is and what it would take.
func (u *Unreached) Note() string { return u.Words() + "; " + strings.Join(u.Takes, "; ") + "." }

// cm2 writes an area given in m²: from a tenth of a square metre on in m2.
func cm2(m2 float64) string {
	if m2 >= 0.1 {
		return figure(m2) + " m2"
	}
	return figure(1e4*m2) + " cm2"
}

// unreached lists the wall that no layout reaches.
func (t *table) unreached(all []Unreached, crumbs float64) {
	if len(all) == 0 {
		return
	}
	t.heading("wall that no layout reaches")
	for i := range all {
		t.row(fmt.Sprint(i+1), "%s", all[i].Words())
		for _, takes := range all[i].Takes {
			t.row("", "%s", takes)
		}
	}
	if crumbs > 0 {
		t.row("smaller pieces", "%s in all", cm2(crumbs))
	}
}
