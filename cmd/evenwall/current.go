package main

import (
	"context"

	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
)

func current(s streams, w work) *cobra.Command {
	t := task{do: w.current, need: job.NeedAnodes | job.NeedConductivity | job.NeedVoltage, station: true}
	check, height := false, 0.0
	c := &cobra.Command{
		Use:   "current JOB",
		Short: "what each patch of wall gets from the rods of the job",
		Long: `current solves the field for the rods of the job and says what each patch of wall
gets: summary, result.json, wall.csv and pictures. With --check it also solves on a coarser
and on a shifted lattice, and says beside each figure how far it may be off by that. With
--section it solves a level section of the tank in two dimensions, per metre of the rods.`,
		Example: "  evenwall current sprayer.yaml\n  evenwall current found/layout.yaml --station first -o check\n  evenwall current sprayer.yaml --check\n  evenwall current sprayer.yaml --section 90",
	}
	c.Flags().BoolVar(&check, "check", false, "solve on two further lattices and estimate the error of each figure")
	c.Flags().Float64Var(&height, "section", 0, "solve instead the level section so many mm above the lowest inside point, in two dimensions")
	t.do = func(ctx context.Context, j *job.Job, p progress) (*report.Answer, error) {
		if c.Flags().Changed("section") {
			return w.section(ctx, j, height/1000, p)
		}
		if check {
			return w.checked(ctx, j, p)
		}
		return w.current(ctx, j, p)
	}
	return t.command(s, c)
}
