package main

import (
	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
)

func clearance(s streams, w work) *cobra.Command {
	t := task{do: w.clearance, need: job.NeedAnodes, station: true, limit: true}
	return t.command(s, &cobra.Command{
		Use:   "clearance JOB",
		Short: "how near bare metal comes to steel",
		Long: `clearance measures how near the bare metal of the rods comes to the wall, the baffles
and the rim, and holds it against the job's least clearance; exit status 3 when it is
nearer.`,
		Example: "  evenwall clearance sprayer.yaml\n  evenwall clearance found/layout.yaml --station first",
	})
}
