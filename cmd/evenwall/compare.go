package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/cmd/evenwall/internal/units"
)

// mostJobs is how many jobs one call compares.
const mostJobs = 6

func compare(s streams, w work) *cobra.Command {
	naive, out := false, ""
	c := &cobra.Command{
		Use:   "compare JOB JOB...",
		Short: "two to six jobs side by side, the stations of one, or one beside the plumb rod",
		Long: `compare solves two to six jobs, or each station of one job, or with --naive the rods of a
job beside the rod that anyone would hang plumb down the middle of the filler. It prints a
table of hours, reach, evenness, current and clearances, says where on the wall they differ
most, and writes it as compare.csv, with one picture of all walls on one scale and, of two in
the same tank, a picture of the difference. A job with several stations counts as a whole,
its positions in turn for their times, unless it is the only one.`,
		Example: "  evenwall compare first.yaml second.yaml\n  evenwall compare found/layout.yaml\n  evenwall compare --naive sprayer.yaml -o beside",
	}
	c.Flags().BoolVar(&naive, "naive", false, "compare with the rod that hangs plumb in the middle of the widest opening")
	c.Flags().StringVarP(&out, "out", "o", "", "folder for the files (default: beside the first job, named after it)")
	c.Args = func(_ *cobra.Command, args []string) error {
		if len(args) < 1 || len(args) > mostJobs {
			return wrongCall(fmt.Sprintf("compare takes one to %d job files, not %d: see evenwall compare --help", mostJobs, len(args)))
		}
		return nil
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		system, err := unitsOf(c)
		if err != nil {
			return err
		}
		if out == "" {
			out = report.BesideJob(args[0])
		}
		return comparison{naive, out, system}.run(c.Context(), s, w, args)
	}
	return c
}

// comparison is how compare was called.
type comparison struct {
	naive bool
	out   string // folder
	units units.System
}

// run loads the jobs, compares them, writes and prints.
func (o comparison) run(ctx context.Context, s streams, w work, paths []string) error {
	t := task{need: job.NeedAnodes | job.NeedConductivity | job.NeedVoltage}
	var jobs []*job.Job
	for _, path := range paths {
		j, err := t.load(path, "")
		if err != nil {
			return withStatus(wrong, err)
		}
		jobs = append(jobs, j)
	}
	a, err := written(ctx, s, o.out, paths, func(show progress) (*report.Answer, error) { return w.compare(ctx, jobs, o.naive, show) })
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "%s\nfiles in %s\n", o.units.Summary(report.Summary(a)), o.out)
	return nil
}
