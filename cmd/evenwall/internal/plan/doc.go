// Package plan is the order of the work for each command: from the job to the tank, the
// liquid in it, the field and the answer. It knows every other package and computes little
// itself.
package plan

// Progress is told how far the work has come: what it is at, and the step of how many in
// all; 0 steps in all when that is not known.
type Progress func(stage string, step, steps int)
