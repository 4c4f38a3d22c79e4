package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// streams are where the program speaks: summaries to out, messages and progress to err.
type streams struct{ out, err io.Writer }

// run carries out one call and returns its exit status.
func run(ctx context.Context, args []string, s streams, w work) int {
	root := newRoot(s, w)
	root.SetArgs(args)
	root.SetOut(s.out)
	root.SetErr(s.err)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return finished
	}
	for line := range strings.SplitSeq(err.Error(), "\n") {
		if line = strings.TrimSpace(line); line != "" {
			fmt.Fprintf(s.err, "evenwall: %s\n", line)
		}
	}
	return statusOf(err)
}

func newRoot(s streams, w work) *cobra.Command {
	root := &cobra.Command{
		Use:   "evenwall",
		Short: "plan the rod that hangs inside a rusty steel tank for electrolytic rust removal",
		Long: `evenwall plans the electrode that hangs inside a rusty steel tank for electrolytic
rust removal: the tank is the cathode, the rod the anode. It computes what each patch
of the wall gets, finds where to hang the rod, and says how near bare metal comes to
steel. All physics stands in a job file; flags only say how to run.

Exit status: 0 finished; 1 failed (cannot write, interrupted); 2 the job or the call is
wrong; 3 finished, and a limit stated in the job is not met.`,
		Example:       "  evenwall demo -o demo\n  evenwall measure sprayer.yaml\n  evenwall layout sprayer.yaml -o found",
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE: func(c *cobra.Command, _ []string) error {
			_ = c.Help()
			return wrongCall("no command given: name one of those above")
		},
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return wrongCall(err.Error()) })
	root.PersistentFlags().String("units", "metric", "units of summaries and sheets: metric or us; files keep to metric")
	root.AddCommand(measure(s, w), current(s, w), layout(s, w), clearance(s, w), demo(s, w))
	root.AddCommand(sheet(s, w), logbook(s, w), compare(s, w))
	return root
}
