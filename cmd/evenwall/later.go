package main

import "github.com/spf13/cobra"

// later is a command that is named already and refuses to work.
func later(c *cobra.Command) *cobra.Command {
	name := c.Name()
	c.Args = cobra.ArbitraryArgs
	c.RunE = func(*cobra.Command, []string) error { return wrongCall("not supported yet: the command " + name) }
	return c
}

func compare() *cobra.Command {
	return later(&cobra.Command{
		Use:     "compare JOB JOB...",
		Short:   "not supported yet: several jobs side by side",
		Example: "  evenwall compare first.yaml second.yaml",
	})
}
