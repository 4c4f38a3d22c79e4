// Package report says what was found: the summaries on the terminal, result.json,
// wall.csv, and the folder they are written to, whole or not at all. It computes
// nothing; units stand in every key, column and line.
package report
