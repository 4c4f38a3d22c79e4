package main

import "evenwall/cmd/evenwall/internal/plan"

// planned returns the work as the program does it.
func planned() work {
	return work{measure: plan.Measure, current: plan.Current, checked: plan.CheckedCurrent, section: plan.Section, layout: plan.Layout, clearance: plan.Clearance, sheet: plan.Sheet, log: plan.Log, compare: plan.Compare}
}
