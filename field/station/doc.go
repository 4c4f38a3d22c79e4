// Package station says what a patch of wall needs, what it gets while rods hang in one
// position or in several in turn, and how long that takes.
//
// Everything is in SI: current density in A/m², charge in C/m² (A s/m²), time in
// seconds, area in m². Patches are known by their place in a slice, the same for every
// station compared.
package station
