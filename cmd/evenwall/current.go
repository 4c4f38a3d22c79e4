package main

import (
	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
)

func current(s streams, w work) *cobra.Command {
	t := task{do: w.current, need: job.NeedAnodes | job.NeedConductivity | job.NeedVoltage, station: true}
	return t.command(s, &cobra.Command{
		Use:   "current JOB",
		Short: "what each patch of wall gets from the rods of the job",
		Long: `current solves the field for the rods of the job and says what each patch of wall
gets: summary, result.json, wall.csv and pictures.`,
		Example: "  evenwall current sprayer.yaml\n  evenwall current found/layout.yaml --station first -o check",
	})
}
