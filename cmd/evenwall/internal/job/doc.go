// Package job is the border to the job file: it reads YAML with units and hands on
// SI numbers, and writes a job back. It is the only place that knows the file's keys.
//
// A file is read as a whole before anything is said about it: every fault is
// reported at once, each with its line, its key and what would be accepted. Keys are
// strict.
package job
