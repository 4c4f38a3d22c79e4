package bath

// Recipe is a bath as it is mixed. The zero value is plain water, at no temperature.
type Recipe struct {
	Product     Product
	Dose        float64 // of product as bought, kg per m³ of liquid (the same number as g/L)
	Temperature float64 // K
}

// Dry returns the concentration of dry salt, kg per m³ of liquid.
func (r Recipe) Dry() float64 { return r.Dose * r.Product.Share() }

// MassShare returns dry salt by mass of liquid, as a share: 0.01 is 1 % by weight.
func (r Recipe) MassShare() float64 { return massShare(r.Product.Salt(), r.Dry(), r.Temperature) }

// Mass returns the product to weigh out for a volume of liquid, m³, in kg.
func (r Recipe) Mass(liquid float64) float64 { return r.Dose * liquid }

// Conductivity returns κ of the liquid, S/m, without what the water brings along
// (TapWater).
func (r Recipe) Conductivity() (Range, error) {
	return Conductivity(r.Product.Salt(), r.MassShare(), r.Temperature)
}

// DoseFor returns the dose of product, kg/m³, that makes a bath of conductivity kappa,
// S/m, at a temperature, K: Conductivity turned round at its middle and at the ends of its
// band, of which the upper stops where the table does.
func DoseFor(product Product, kappa, temperature float64) (Range, error) {
	salt := product.Salt()
	if err := checkKappa(salt, kappa, temperature); err != nil {
		return Range{}, err
	}
	dose := func(kappa float64) float64 {
		w := shareFor(salt, kappa, temperature)
		return w * Density(salt, w, temperature) / product.Share()
	}
	band := spread(salt, temperature)
	most := mostKappa(salt, temperature)
	return Range{dose(kappa / (1 + band)), dose(kappa), dose(min(kappa/(1-band), most))}, nil
}

// UnsaidForm returns the dose, kg/m³, over all forms that the bag may hold when it
// does not say: as if monohydrate in the middle, anhydrous and decahydrate at the ends.
func UnsaidForm(dry float64) Range {
	return Range{dry / Anhydrous.Share(), dry / Monohydrate.Share(), dry / Decahydrate.Share()}
}

// massShare turns kg of dry salt per m³ of liquid into a share of mass. The liquid's
// density depends on the answer, weakly: the iteration gains two digits a round.
func massShare(salt Salt, dry, temperature float64) float64 {
	w := dry / 1000
	for range 8 {
		w = dry / Density(salt, w, temperature)
	}
	return w
}
