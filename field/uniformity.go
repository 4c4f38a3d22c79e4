package field

import "slices"

// Uniformity is how evenly a current is spread over patches of wall, by area.
type Uniformity struct {
	area  float64 // m²
	total float64 // A
	j     []float64
	below []float64 // area of the patches up to and with j of the same index, m²
}

// NewUniformity sorts the patches by their current density j, A/m².
func NewUniformity(patches []Patch, j []float64) *Uniformity {
	order := make([]int, len(patches))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case j[a] < j[b]:
			return -1
		case j[a] > j[b]:
			return 1
		default:
			return 0
		}
	})
	u := &Uniformity{}
	for _, i := range order {
		u.area += patches[i].Area
		u.total += patches[i].Area * j[i]
		u.j = append(u.j, j[i])
		u.below = append(u.below, u.area)
	}
	return u
}

// Mean returns the mean current density, A/m²; 0 without patches.
func (u *Uniformity) Mean() float64 {
	if u.area == 0 {
		return 0
	}
	return u.total / u.area
}

// Percentile returns the smallest j, A/m², such that the patches up to it hold at least
// the share q of the area; 0 without patches.
func (u *Uniformity) Percentile(q float64) float64 {
	if len(u.j) == 0 {
		return 0
	}
	i, _ := slices.BinarySearch(u.below, q*u.area*(1-1e-12))
	return u.j[min(i, len(u.j)-1)]
}

// Below returns the share of the area with less than j, A/m².
func (u *Uniformity) Below(j float64) float64 {
	i, _ := slices.BinarySearch(u.j, j)
	if i == 0 {
		return 0
	}
	return u.below[i-1] / u.area
}
