// Package bench works out the plan at the bench: what goes into the water, what the meters
// should show, when to look, the gas, the heat, what is eaten, and what is refused. It takes
// a job and its stations as they were solved, and gives values with their ranges; it
// solves no field and reads no file.
//
// Everything is in SI, temperatures in kelvin.
package bench
