package main

import (
	"context"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/paper"
	"evenwall/cmd/evenwall/internal/plan"
	"evenwall/cmd/evenwall/internal/readings"
	"evenwall/cmd/evenwall/internal/report"
)

// progress is told how far the work has come.
type progress = plan.Progress

// work is what the commands call: the order of the work for each of them.
type work struct {
	measure, current, checked, layout, clearance func(context.Context, *job.Job, progress) (*report.Answer, error)

	section func(context.Context, *job.Job, float64, progress) (*report.Answer, error)

	sheet func(context.Context, *job.Job, paper.Style, progress) (*report.Answer, error)
	log   func(context.Context, *job.Job, []readings.Row, progress) (*report.Answer, error)

	compare func(ctx context.Context, jobs []*job.Job, naive bool, show progress) (*report.Answer, error)
}
