package main

import (
	"io"
	"os"

	"github.com/schollz/progressbar/v3"
)

// bar shows progress on a terminal and is quiet anywhere else.
type bar struct {
	to    io.Writer // nil: quiet
	inner *progressbar.ProgressBar
	steps int
	stage string
}

func newBar(w io.Writer) *bar {
	file, ok := w.(*os.File)
	if !ok {
		return &bar{}
	}
	info, err := file.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return &bar{}
	}
	return &bar{to: w}
}

// show is a progress; a new stage starts a new bar.
func (b *bar) show(stage string, step, steps int) {
	if b.to == nil {
		return
	}
	if b.inner == nil || stage != b.stage || steps != b.steps {
		b.remove()
		b.stage, b.steps = stage, steps
		b.inner = b.start(stage, steps)
	}
	_ = b.inner.Set(step) // a terminal that went away is no reason to stop
}

func (b *bar) start(stage string, steps int) *progressbar.ProgressBar {
	const unknown, width = -1, 30
	if steps <= 0 {
		steps = unknown
	}
	return progressbar.NewOptions(steps, progressbar.OptionSetWriter(b.to), progressbar.OptionSetDescription(stage),
		progressbar.OptionSetWidth(width), progressbar.OptionShowCount(), progressbar.OptionClearOnFinish(),
		progressbar.OptionSetSpinnerChangeInterval(0)) // no clock of its own: drawn by show only
}

// remove takes the bar off the terminal.
func (b *bar) remove() {
	if b.inner != nil {
		_ = b.inner.Clear()
		b.inner = nil
	}
}
