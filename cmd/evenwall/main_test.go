package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/paper"
	"evenwall/cmd/evenwall/internal/report"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"evenwall": main})
}

// Each script is a run of the real program with its files, streams and exit status.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "../../testdata/scripts",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": status,
		},
		Setup: func(e *testscript.Env) error {
			demo, err := os.ReadFile("demo.yaml")
			if err != nil {
				return err
			}
			surfaces, err := filepath.Abs("../../testdata/stl")
			if err != nil {
				return err
			}
			e.Setenv("STL", surfaces)
			e.Setenv("BROKEN", filepath.Join(surfaces, "broken"))
			return os.WriteFile(e.WorkDir+"/pump.yaml", demo, 0o644)
		},
	})
}

// status N PROGRAM ARGS... runs a program that must end with exit status N.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N PROGRAM ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%s did not run: %v", args[1], err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// canned is work that answers at once with figures made up for the test.
func canned(r report.Result) work {
	do := func(_ context.Context, j *job.Job, p progress) (*report.Answer, error) {
		p("solving", 1, 2)
		a := &report.Answer{Result: r, Layout: j}
		return a, nil
	}
	onPaper := func(ctx context.Context, j *job.Job, _ paper.Style, p progress) (*report.Answer, error) {
		return do(ctx, j, p)
	}
	return work{measure: do, current: do, layout: do, clearance: do, sheet: onPaper}
}

func call(ctx context.Context, w work, args ...string) (status int, out, err string) {
	var o, e bytes.Buffer
	status = run(ctx, args, streams{&o, &e}, w)
	return status, o.String(), e.String()
}

func demoFile(t *testing.T) string {
	path := filepath.Join(t.TempDir(), "pump.yaml")
	require.NoError(t, os.WriteFile(path, demoJob, 0o644))
	return path
}

func TestLimitMissedIsStatusThreeWhereOneHoldsTo(t *testing.T) {
	w := canned(report.Result{Checks: []report.Check{{Name: "least clearance", Value: 20, Limit: 25, Unit: "mm"}}})
	for command, want := range map[string]int{"measure": finished, "current": finished, "layout": missed, "clearance": missed} {
		path := demoFile(t)
		got, out, messages := call(context.Background(), w, command, path)
		assert.Equal(t, want, got, command)
		assert.Contains(t, out, "NOT MET", command)
		assert.FileExists(t, filepath.Join(report.BesideJob(path), report.ResultFile), "written all the same")
		if want == missed {
			assert.Contains(t, messages, "a limit of the job is not met")
		}
	}
}

func TestInterruptedRunLeavesNoFolder(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	w := canned(report.Result{})
	w.layout = func(ctx context.Context, _ *job.Job, _ progress) (*report.Answer, error) {
		cancel()
		return nil, fmt.Errorf("search: %w", ctx.Err())
	}
	path := demoFile(t)
	got, out, messages := call(ctx, w, "layout", path)
	assert.Equal(t, failed, got)
	assert.Empty(t, out)
	assert.Equal(t, "evenwall: interrupted: nothing half-written is left behind\n", messages)
	assert.NoDirExists(t, report.BesideJob(path))
}

func TestFolderThatCannotBeWrittenIsStatusOne(t *testing.T) {
	path := demoFile(t)
	got, _, messages := call(context.Background(), canned(report.Result{}), "current", path, "-o", path)
	assert.Equal(t, failed, got)
	assert.Contains(t, messages, "give another folder with -o")
}

func TestFigureThatIsNoNumberIsStatusOne(t *testing.T) {
	w := canned(report.Result{Cell: &report.Cell{CurrentA: math.NaN()}})
	got, _, messages := call(context.Background(), w, "current", demoFile(t))
	assert.Equal(t, failed, got)
	assert.Contains(t, messages, "cell.current_a")
}

func TestDemoTakesTheLayoutBackThroughTheOtherCommands(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "demo")
	got, out, messages := call(context.Background(), canned(report.Result{}), "demo", "-o", dir)
	assert.Equal(t, finished, got, messages)
	for _, name := range []string{"demo.yaml", "measure/result.json", "layout/layout.yaml", "current/result.json", "clearance/result.json", "sheet/result.json"} {
		assert.FileExists(t, filepath.Join(dir, name))
	}
	assert.Equal(t, 1, strings.Count(out, "Tank NEGATIVE"), "said once, at the end")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "demo.yaml"), []byte("job: 1\n"), 0o644))
	got, _, messages = call(context.Background(), canned(report.Result{}), "demo", "-o", dir)
	assert.Equal(t, failed, got)
	assert.Contains(t, messages, "was changed by hand and is kept")
}

func TestEveryCommandHasAnExample(t *testing.T) {
	root := newRoot(streams{io.Discard, io.Discard}, work{})
	for _, c := range append(root.Commands(), root) {
		if c.Name() != "help" {
			assert.Contains(t, c.Example, "evenwall "+strings.TrimPrefix(c.Name(), "evenwall"), c.Name())
		}
	}
}
