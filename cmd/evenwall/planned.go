package main

import (
	"context"
	"errors"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/plan"
	"evenwall/cmd/evenwall/internal/report"
)

// planned returns the work as the program does it.
func planned() work {
	absent := func(context.Context, *job.Job, progress) (*report.Answer, error) {
		return nil, errors.New("not supported yet: the field is not joined to the commands")
	}
	return work{measure: plan.Measure, current: plan.Current, layout: absent, clearance: plan.Clearance}
}
