package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/readings"
	"evenwall/cmd/evenwall/internal/report"
)

func logbook(s streams, w work) *cobra.Command {
	var rows []readings.Row
	do := func(ctx context.Context, j *job.Job, p progress) (*report.Answer, error) {
		return w.log(ctx, j, rows, p)
	}
	t := task{do: do, need: job.NeedAnodes | job.NeedVoltage}
	c := t.command(s, &cobra.Command{
		Use:   "log JOB FILE",
		Short: "readings written down at the bench, against what was expected",
		Long: `log reads time, volts from rod to tank, amps and temperature as they were written down:
a row for each reading, parted by commas, semicolons, tabs or blanks, - for what is missing,
a line "station: NAME" before the rows of another station, the word scrubbed in the row
after which the rod was fresh. It sums the A h of each station, says what bath and rod are
like, what the numbers look like and how many hours are left, and draws them.`,
		Example: "  evenwall log found/layout.yaml readings.csv\n  evenwall log found/layout.yaml readings.txt -o today",
	})
	c.Args = func(_ *cobra.Command, args []string) (err error) {
		if len(args) != 2 {
			return wrongCall(fmt.Sprintf("log takes a job file and a file of readings, not %d files: see evenwall log --help", len(args)))
		}
		rows, err = readings.Load(args[1])
		return withStatus(wrong, err)
	}
	return c
}
