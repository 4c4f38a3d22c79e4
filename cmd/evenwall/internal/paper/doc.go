// Package paper draws the sheet for the bench: printable pages that somebody reads at arm's
// length with wet gloves, printed in grey. It takes what the bench was worked out to and
// computes nothing.
//
// On a page lengths are millimetres from its upper left corner, y down.
package paper
