package main

import (
	"context"
	"errors"
)

// The exit statuses of the program.
const (
	finished = 0
	failed   = 1 // cannot write, or interrupted
	wrong    = 2 // the job or the call is wrong
	missed   = 3 // finished, and a limit stated in the job is not met
)

// statusError is an error with the exit status that it asks for. An error without one
// is the call's fault: a wrong command, flag or argument.
type statusError struct {
	status int
	err    error
}

func (e *statusError) Error() string { return e.err.Error() }

// Unwrap returns the cause.
func (e *statusError) Unwrap() error { return e.err }

func wrongCall(text string) error { return &statusError{wrong, errors.New(text)} }

func withStatus(status int, err error) error {
	if err == nil {
		return nil
	}
	return &statusError{status, err}
}

// errInterrupted stands for whatever error the work gave when it was stopped.
var errInterrupted = errors.New("interrupted: nothing half-written is left behind")

// afterWork gives the status of an error of the computation: the user's interruption,
// or something in the job that only came out on the way.
func afterWork(ctx context.Context, err error) error {
	if err != nil && ctx.Err() != nil {
		return &statusError{failed, errInterrupted}
	}
	return withStatus(wrong, err)
}

func statusOf(err error) int {
	var s *statusError
	if errors.As(err, &s) {
		return s.status
	}
	return wrong
}
