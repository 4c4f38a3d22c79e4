package main

import (
	"github.com/spf13/cobra"
)

func measure(s streams, w work) *cobra.Command {
	return task{do: w.measure}.command(s, &cobra.Command{
		Use:   "measure JOB",
		Short: "the tank's shape, volume, filling and trapped air",
		Long: `measure reads the tank, fills it to the level of the job in its attitude and says
what it holds, how much wall is wetted and where air is trapped. In a surface it
looks for round openings and prints them as lines to paste into the job.`,
		Example: "  evenwall measure sprayer.yaml\n  evenwall measure sprayer.yaml -o measured",
	})
}
