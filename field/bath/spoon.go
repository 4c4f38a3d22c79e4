package bath

import "fmt"

// Volumes of the kitchen and the shop, m³ (from memory; exact by definition).
const (
	Litre          = 1e-3
	GallonUS       = 3.785411784e-3
	GallonImperial = 4.54609e-3

	TablespoonUS         = GallonUS / 256
	TablespoonMetric     = 15e-6
	TablespoonAustralian = 20e-6
	TablespoonImperial   = GallonImperial / 256
)

// Bulk densities as poured, kg/m³, of the products that people spoon. Light soda ash is
// 0.57 to 0.77 by two makers' sheets, dense ash 1.00 to 1.06; the crystals are from memory.
func bulkDensities(p Product) (Range, bool) {
	switch p {
	case Anhydrous:
		return Range{570, 770, 1060}, true
	case Monohydrate:
		return Around(1000, 0.25), true
	case Decahydrate:
		return Range{650, 770, 900}, true
	case BakingSoda:
		return Range{800, 950, 1100}, true
	}
	return Range{}, false
}

// BulkDensity returns what a volume of the product weighs as poured, kg/m³. Heptahydrate,
// lye and phosphate have none here: they are to be weighed.
func BulkDensity(p Product) (Range, error) {
	bulk, ok := bulkDensities(p)
	if !ok {
		return Range{}, fmt.Errorf("no spoon measure for %s: weigh it", p)
	}
	return bulk, nil
}

// SpoonMass returns what a level spoon, m³, of product weighs, kg.
func SpoonMass(p Product, spoon float64) (Range, error) {
	bulk, err := BulkDensity(p)
	return bulk.Scale(spoon), err
}

// Spoons returns how many level spoons, m³ each, a mass of product, kg, is: Low when
// the powder lies dense.
func Spoons(p Product, mass, spoon float64) (Range, error) {
	bulk, err := BulkDensity(p)
	if err != nil {
		return Range{}, err
	}
	return Range{mass / (bulk.High * spoon), mass / (bulk.Mid * spoon), mass / (bulk.Low * spoon)}, nil
}
