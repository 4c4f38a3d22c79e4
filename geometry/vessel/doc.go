// Package vessel is the tank as a container: its steel and its openings, the attitude it
// is propped in, how far it can be filled, and what the liquid then touches.
//
// Every point, plane and facet is in the tank's own frame, unpropped. Only heights are
// measured along the plumb line of the propped tank: the height of p is Up · p, m.
package vessel
