package main

import (
	"bytes"
	"context"
	_ "embed"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/paper"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/cmd/evenwall/internal/units"
)

//go:embed demo.yaml
var demoJob []byte

func demo(s streams, w work) *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "demo",
		Short: "the main job on a tank that the program brings along",
		Long: `demo writes the job of a tank that the program brings along, measures it, looks for
the layout, and takes that layout back through current, clearance and sheet, each with
its files in a folder of its own.`,
		Example: "  evenwall demo -o demo",
		Args:    cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) (err error) {
			if o.units, err = unitsOf(c); err != nil {
				return err
			}
			return runDemo(c.Context(), s, w, o)
		},
	}
	c.Flags().StringVarP(&o.out, "out", "o", "demo", "folder for the job and the files")
	return c
}

// runDemo goes the way that a person goes with a tank of their own.
func runDemo(ctx context.Context, s streams, w work, o options) error {
	dir := o.out
	tank, err := writeDemoJob(dir)
	if err != nil {
		return withStatus(failed, err)
	}
	found := filepath.Join(dir, "layout", report.LayoutFile)
	var verdict error
	for _, step := range []struct {
		name, path string
		task       task
	}{
		{"measure", tank, task{do: w.measure}},
		{"layout", tank, task{do: w.layout, limit: true}},
		{"current", found, task{do: w.current}},
		{"clearance", found, task{do: w.clearance, limit: true}},
		{"sheet", found, task{do: sheetIn(w, o.units), limit: true}},
	} {
		out := filepath.Join(dir, step.name)
		fmt.Fprintf(s.out, "$ evenwall %s %s -o %s\n", step.name, step.path, out)
		j, err := job.Load(step.path)
		if err != nil {
			return withStatus(wrong, err)
		}
		a, err := step.task.answer(ctx, s, j, out)
		if err != nil {
			return err
		}
		fmt.Fprintln(s.out, o.units.Summary(report.Findings(a)))
		if v := step.task.verdict(a); v != nil {
			verdict = v
		}
	}
	fmt.Fprintf(s.out, "%s\njob %s, layout found %s; pictures and figures beside it\n", report.Cautions(), tank, found)
	return verdict
}

// sheetIn is the work of sheet on A4 in a system of units.
func sheetIn(w work, u units.System) func(context.Context, *job.Job, progress) (*report.Answer, error) {
	return func(ctx context.Context, j *job.Job, p progress) (*report.Answer, error) {
		return w.sheet(ctx, j, paper.Style{Units: u}, p)
	}
}

// writeDemoJob writes the job of the demo tank into dir, but not over one that was changed.
func writeDemoJob(dir string) (string, error) {
	path := filepath.Join(dir, "demo.yaml")
	if old, err := os.ReadFile(path); err == nil && !bytes.Equal(old, demoJob) {
		return "", fmt.Errorf("%s was changed by hand and is kept: give another folder with -o", path)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", &report.WriteError{Path: dir, Err: err}
	}
	return path, report.WriteWhole(path, demoJob)
}
