package main

import (
	"context"

	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
)

func current(s streams, w work) *cobra.Command {
	t := task{do: w.current, need: job.NeedAnodes | job.NeedConductivity | job.NeedVoltage, station: true}
	check := false
	c := &cobra.Command{
		Use:   "current JOB",
		Short: "what each patch of wall gets from the rods of the job",
		Long: `current solves the field for the rods of the job and says what each patch of wall
gets: summary, result.json, wall.csv and pictures. With --check it also solves on a coarser
and on a shifted lattice, and says beside each figure how far it may be off by that.`,
		Example: "  evenwall current sprayer.yaml\n  evenwall current found/layout.yaml --station first -o check\n  evenwall current sprayer.yaml --check",
	}
	c.Flags().BoolVar(&check, "check", false, "solve on two further lattices and estimate the error of each figure")
	t.do = func(ctx context.Context, j *job.Job, p progress) (*report.Answer, error) {
		if check {
			return w.checked(ctx, j, p)
		}
		return w.current(ctx, j, p)
	}
	return t.command(s, c)
}
