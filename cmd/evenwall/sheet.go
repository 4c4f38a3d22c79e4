package main

import (
	"context"

	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/paper"
	"evenwall/cmd/evenwall/internal/report"
)

func sheet(s streams, w work) *cobra.Command {
	var size string
	var style paper.Style
	do := func(ctx context.Context, j *job.Job, p progress) (*report.Answer, error) {
		return w.sheet(ctx, j, style, p)
	}
	t := task{do: do, need: job.NeedAnodes | job.NeedVoltage, station: true, limit: true}
	c := t.command(s, &cobra.Command{
		Use:   "sheet JOB",
		Short: "the pages for the bench: what to weigh, what to expect, when to look",
		Long: `sheet works out the plan at the bench and writes sheet.pdf, to be printed: polarity,
recipe, what the meters should show, when to switch off, gas, heat, times with boxes to
tick. It asks what tank, rod and former contents are, refuses what no plan is made for,
and writes no pages, with exit status 3, when a limit is not met.`,
		Example: "  evenwall sheet found/layout.yaml\n  evenwall sheet found/layout.yaml --paper letter --units us",
	})
	c.Flags().StringVar(&size, "paper", "a4", "size of the pages: a4 or letter")
	c.PreRunE = func(c *cobra.Command, _ []string) (err error) {
		if style.Units, err = unitsOf(c); err != nil {
			return err
		}
		if style.Size, err = paper.ParseSize(size); err != nil {
			return wrongCall(err.Error())
		}
		return nil
	}
	return c
}
