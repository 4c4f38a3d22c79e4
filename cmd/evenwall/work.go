package main

import (
	"context"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
)

// progress is told how far the work has come: what it is at, and the step of how many
// in all; 0 steps in all when that is not known.
type progress func(stage string, step, steps int)

// work is what the commands call: the order of the work for each of them.
type work struct {
	measure, current, layout, clearance func(context.Context, *job.Job, progress) (*report.Answer, error)
}
