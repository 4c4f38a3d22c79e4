package main

import (
	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
)

func layout(s streams, w work) *cobra.Command {
	t := task{do: w.layout, need: job.NeedOpening | job.NeedConductivity | job.NeedVoltage, limit: true}
	return t.command(s, &cobra.Command{
		Use:   "layout JOB",
		Short: "find where to hang the rod",
		Long: `layout looks for the rod, the place in the opening, the lean, the depth and the bare
stretch that bring the most wall its charge in the least time, never nearer to steel
than the job's clearance. It writes layout.yaml, a job file that current and
clearance take, beside the files of current; exit status 3 when a limit is not met.`,
		Example: "  evenwall layout sprayer.yaml\n  evenwall layout sprayer.yaml -o found",
	})
}
