package stlfile

import "slices"

// doubled marks the faces that have the corners of an earlier one, however turned.
// Faces are compared with those that share their lowest corner.
func doubled(faces [][3]int32, vertices int) []bool {
	first := make([]int32, vertices+1)
	for i := range faces {
		first[lowest(faces[i])+1]++
	}
	for v := range vertices {
		first[v+1] += first[v]
	}
	next := slices.Clone(first)
	filed := make([]int32, len(faces))
	twice := make([]bool, len(faces))
	for i, f := range faces {
		low := lowest(f)
		for _, k := range filed[first[low]:next[low]] {
			if sameCorners(faces[k], f) {
				twice[i] = true
				break
			}
		}
		if !twice[i] {
			filed[next[low]] = int32(i)
			next[low]++
		}
	}
	return twice
}

func lowest(f [3]int32) int32 { return min(f[0], f[1], f[2]) }

// sameCorners compares two faces that share their lowest corner.
func sameCorners(f, g [3]int32) bool {
	return max(f[0], f[1], f[2]) == max(g[0], g[1], g[2]) && f[0]+f[1]+f[2] == g[0]+g[1]+g[2]
}
