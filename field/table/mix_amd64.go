package table

// addFourWide adds four rows times factors to a sum, one row after the other, in the vector
// instructions that every amd64 has; n is cut down to eights.
//
//go:noescape
func addFourWide(sum *float32, rows *[4]*float32, by *[4]float32, n int)

// wide is how many of n figures addFourWide takes.
func wide(n int) int { return n &^ 7 }
