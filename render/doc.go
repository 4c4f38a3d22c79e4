// Package render draws the pictures of a plan: the wall's current density seen from
// inside, a section with equipotentials, and the tightest gap between metal and steel.
// Values go in, an image comes out; nothing here solves, reads or writes files.
//
// Points are in metres in the tank's own frame, current densities in A/m². A picture is
// laid out on a sheet 1200 units wide; Settings.Width says how many pixels that becomes.
// Every picture prints the range of its colours and the uncertainty of the field and of
// the chemistry. The same values give the same bytes.
package render
