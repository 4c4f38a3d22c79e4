package report

import (
	"fmt"
	"strings"
)

// Laws is how the layouts shown do by each law of how the wall changes, and whether they keep
// their order.
type Laws struct {
	Names   []string `json:"laws"`
	Layouts []ByLaws `json:"layouts"`
	First   []string `json:"first_by_law"` // the layout that comes first by each law
	Kept    bool     `json:"order_kept"`   // all layouts stand in the same order by every law
}

// ByLaws is one layout by each law: hours to the aim's share, nil for never, and the share of
// the reachable wall that has its charge after ten days.
type ByLaws struct {
	Name    string     `json:"layout"`
	Hours   []*float64 `json:"hours_total"`
	TenDays []float64  `json:"reached_fraction_after_10_days"`
}

// laws says what the law that nobody knows does to the hours and to the order of layouts.
func (t *table) laws(l *Laws) {
	if l == nil {
		return
	}
	t.heading("by three laws of how rust gives way, as nobody knows which holds: hours, and wall in 10 days")
	t.row("laws", "%s", strings.Join(l.Names, "; "))
	for _, layout := range l.Layouts {
		parts := make([]string, len(layout.Hours))
		for i, h := range layout.Hours {
			parts[i] = "never, " + percent(layout.TenDays[i])
			if h != nil {
				parts[i] = fmt.Sprintf("%s h, %s", figure(*h), percent(layout.TenDays[i]))
			}
		}
		t.row(layout.Name, "%s", strings.Join(parts, "; "))
	}
	t.row("their order", "%s", l.order())
}

// order says whether the order holds.
func (l *Laws) order() string {
	if l.Kept {
		return "the same by all three"
	}
	var words []string
	for i, first := range l.First {
		if first != l.First[0] {
			words = append(words, fmt.Sprintf("by %s %s comes first", l.Names[i], first))
		}
	}
	if words == nil {
		return l.First[0] + " comes first by all three; those behind it change places"
	}
	return strings.Join(words, "; ")
}
