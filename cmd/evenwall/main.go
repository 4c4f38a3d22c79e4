// Command evenwall plans an electrode that hangs inside a rusty steel tank, so that
// electrolysis reaches as much of its wall as it can in the least time.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
)

// roomy is the memory, bytes, from which what is no longer used is given back at once and not
// when it has doubled: a surface of a million facets stays below a gigabyte.
const roomy = 750 << 20

func main() {
	debug.SetMemoryLimit(roomy)
	os.Exit(start())
}

// start runs the program with the process's own arguments and streams until it ends
// or is interrupted, and returns its exit status.
func start() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second interrupt ends the process at once
	return run(ctx, os.Args[1:], streams{os.Stdout, os.Stderr}, planned())
}
