package main

import (
	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
)

func measure(s streams, w work) *cobra.Command {
	var stl string
	t := task{do: w.measure}
	t.also = func(j *job.Job, a *report.Answer) error { return writeSTL(stl, j, a) }
	c := t.command(s, &cobra.Command{
		Use:   "measure JOB",
		Short: "the tank's shape, volume, filling and trapped air",
		Long: `measure reads the tank, fills it to the level of the job in its attitude and says
what it holds, how much wall is wetted, where air is trapped, and which way of propping
wets the most wall and lets gas rise to the openings. In a surface it looks for round
openings and prints them as lines to paste into the job.`,
		Example: "  evenwall measure sprayer.yaml\n  evenwall measure sprayer.yaml -o measured\n  evenwall measure sprayer.yaml --stl vessel.stl",
	})
	c.Flags().StringVar(&stl, "stl", "", "also write the tank with its baffles to this STL file, in mm")
	return c
}

// writeSTL writes the tank for any viewer; nothing without a path.
func writeSTL(path string, j *job.Job, a *report.Answer) error {
	if path == "" || a.STL == nil {
		return nil
	}
	data, err := a.STL()
	if err != nil {
		return withStatus(failed, err)
	}
	keep := append([]string{j.Path, j.Tank.Surface}, j.Tank.Baffles...)
	return withStatus(failed, report.WriteApart(path, data, keep...))
}
