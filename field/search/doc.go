// Package search looks for the place of a rod: which opening, where in it, how deep, how
// far leaning, how thick and bare on which stretch, so that the wall has its charge in the
// least time.
//
// It knows shape (never nearer to steel than asked, through the opening, in along its own
// axis) and the objective; what a rod does to the wall it asks an Evaluator. Every length
// is in metres, every point in the tank's own frame, unpropped; only the liquid's surface
// is level in the propped tank.
package search
