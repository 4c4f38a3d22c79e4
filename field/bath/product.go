package bath

import (
	"fmt"
	"strings"
)

// Salt is what is in the water once the product has dissolved.
type Salt int

// The salts whose tables are known.
const (
	Carbonate   Salt = iota // Na2CO3, washing soda
	Bicarbonate             // NaHCO3, baking soda
	Hydroxide               // NaOH, lye
	Phosphate               // Na3PO4, trisodium phosphate
)

// Product is what the bag or the tin holds. The zero value is anhydrous washing soda.
type Product int

// The products, by their words in a job.
const (
	Anhydrous Product = iota
	Monohydrate
	Heptahydrate
	Decahydrate
	BakingSoda
	Lye
	TrisodiumPhosphate
	TrisodiumPhosphateCrystals
)

// products is indexed by Product. Molar masses in g/mol: carbonate and decahydrate from
// tables, the others from memory.
var products = [...]struct {
	name       string
	salt       Salt
	molar, dry float64 // of the product and of the salt in it, g/mol
}{
	Anhydrous:                  {"anhydrous", Carbonate, 105.99, 105.99},
	Monohydrate:                {"monohydrate", Carbonate, 124.00, 105.99},
	Heptahydrate:               {"heptahydrate", Carbonate, 232.10, 105.99},
	Decahydrate:                {"decahydrate", Carbonate, 286.14, 105.99},
	BakingSoda:                 {"baking soda", Bicarbonate, 84.01, 84.01},
	Lye:                        {"lye", Hydroxide, 40.00, 40.00},
	TrisodiumPhosphate:         {"trisodium phosphate", Phosphate, 163.94, 163.94},
	TrisodiumPhosphateCrystals: {"trisodium phosphate crystals", Phosphate, 380.12, 163.94},
}

// Products returns every product, washing soda first.
func Products() []Product {
	out := make([]Product, len(products))
	for i := range out {
		out[i] = Product(i)
	}
	return out
}

// WashingSodas returns the forms that a bag of washing soda may hold when it does not
// say; which of them it is decides the dose by a factor of 2.7.
func WashingSodas() []Product { return []Product{Anhydrous, Monohydrate, Decahydrate} }

// ParseProduct returns the product of that name, as String gives it.
func ParseProduct(name string) (Product, error) {
	names := make([]string, len(products))
	for i, p := range products {
		if p.name == name {
			return Product(i), nil
		}
		names[i] = p.name
	}
	return 0, fmt.Errorf("soda form %q is not known: give one of %s", name, strings.Join(names, ", "))
}

// String returns the product's word in a job.
func (p Product) String() string { return products[p].name }

// Salt returns what it dissolves to.
func (p Product) Salt() Salt { return products[p].salt }

// Share returns the mass of dry salt in a mass of product, as a share.
func (p Product) Share() float64 { return products[p].dry / products[p].molar }

// Formula returns the salt by its formula.
func (s Salt) Formula() string {
	return [...]string{Carbonate: "Na2CO3", Bicarbonate: "NaHCO3", Hydroxide: "NaOH", Phosphate: "Na3PO4"}[s]
}

// Caution returns what a person should know before handling the product.
func (p Product) Caution() string {
	switch p.Salt() {
	case Bicarbonate:
		return "baking soda conducts about two thirds as well as dry washing soda of the same mass and is less " +
			"alkaline: more grams for the same current. Goggles all the same"
	case Hydroxide:
		return "lye burns skin and blinds: goggles, long gloves, water to rinse at hand. Always lye into cold water, " +
			"in small portions, never water onto lye. It dissolves aluminium, zinc and galvanising, with hydrogen, " +
			"and lifts paint; weigh it, no spoons"
	case Phosphate:
		return "trisodium phosphate is strongly alkaline: goggles and gloves. It lifts paint and feeds algae: " +
			"see the local rules before it goes down a drain"
	}
	return "washing soda irritates eyes and skin: goggles and gloves. It attacks aluminium: none in the bath"
}
