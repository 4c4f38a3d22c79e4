// Package readings reads what somebody wrote down at the bench: time, volts, amps and
// temperature, in whatever way that was typed in. Cells are parted by commas, semicolons,
// tabs or blanks, a decimal point may be a comma, cells may be missing, and a night may lie
// between two rows. What cannot be told is an error with its row, never a guess.
package readings
