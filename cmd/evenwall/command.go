package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/cmd/evenwall/internal/units"
)

// task is a command that turns a job into an answer.
type task struct {
	do      func(context.Context, *job.Job, progress) (*report.Answer, error)
	need    job.Need // of the job
	station bool     // takes one station of the job
	limit   bool     // a limit that is not met gives status missed

	also func(*job.Job, *report.Answer) error // after the files are written; nil: nothing
}

// options are the flags of such a command.
type options struct {
	out     string // folder; "" for the one beside the job
	station string // "" for the first
	units   units.System
}

// command wires a task to its name; it takes a job file and -o.
func (t task) command(s streams, c *cobra.Command) *cobra.Command {
	var o options
	c.Args = jobArgument
	c.Flags().StringVarP(&o.out, "out", "o", "", "folder for the files (default: beside the job, named after it)")
	if t.station {
		c.Flags().StringVar(&o.station, "station", "", "name of the station to take (default: the first)")
	}
	c.RunE = func(c *cobra.Command, args []string) (err error) {
		if o.units, err = unitsOf(c); err != nil {
			return err
		}
		if o.out == "" {
			o.out = report.BesideJob(args[0])
		}
		return t.run(c.Context(), s, args[0], o)
	}
	return c
}

// unitsOf returns the system that the flag of all commands names.
func unitsOf(c *cobra.Command) (units.System, error) {
	name, err := c.Flags().GetString("units")
	if err != nil {
		return units.Metric, err
	}
	system, err := units.Parse(name)
	return system, withStatus(wrong, err)
}

func jobArgument(c *cobra.Command, args []string) error {
	if len(args) != 1 {
		return wrongCall(fmt.Sprintf("%s takes one job file, not %d: see evenwall %s --help", c.Name(), len(args), c.Name()))
	}
	return nil
}

// run loads, computes, writes and prints.
func (t task) run(ctx context.Context, s streams, path string, o options) error {
	j, err := t.load(path, o.station)
	if err != nil {
		return withStatus(wrong, err)
	}
	a, err := t.answer(ctx, s, j, o.out)
	if err != nil {
		return err
	}
	if t.also != nil {
		if err := t.also(j, a); err != nil {
			return err
		}
	}
	fmt.Fprintf(s.out, "%s\nfiles in %s\n", o.units.Summary(report.Summary(a)), o.out)
	return t.verdict(a)
}

func (t task) load(path, station string) (*job.Job, error) {
	j, err := job.Load(path)
	if err == nil && station != "" {
		j, err = j.Only(station)
	}
	if err != nil {
		return nil, err
	}
	return j, j.Ready(t.need)
}

// answer computes and writes the files; nothing is printed.
func (t task) answer(ctx context.Context, s streams, j *job.Job, dir string) (*report.Answer, error) {
	return written(ctx, s, dir, []string{j.Path}, func(show progress) (*report.Answer, error) { return t.do(ctx, j, show) })
}

// written computes an answer and writes its files into a folder, never over the jobs.
func written(ctx context.Context, s streams, dir string, jobs []string, do func(progress) (*report.Answer, error)) (*report.Answer, error) {
	folder, err := report.Prepare(dir, jobs...)
	if err != nil {
		return nil, withStatus(failed, err)
	}
	defer folder.Discard()
	bar := newBar(s.err)
	a, err := do(bar.show)
	bar.remove()
	if err != nil {
		return nil, afterWork(ctx, err)
	}
	if err := folder.WriteAll(ctx, a); err != nil {
		return nil, withStatus(failed, err)
	}
	return a, nil
}

func (t task) verdict(a *report.Answer) error {
	if t.limit && a.Result.Missed() {
		return &statusError{missed, errors.New("finished, and a limit of the job is not met: see the limits above")}
	}
	return nil
}
