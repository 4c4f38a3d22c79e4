package bench

import (
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field/bath"
)

// Recipe is what is weighed out for the liquid in the tank.
type Recipe struct {
	Product bath.Product
	Said    bool       // the job says which product it is
	Mass    bath.Range // of product as bought, kg
	Spoons  bath.Range // level US tablespoons; zero when the product is to be weighed
	Dry     bath.Range // of dry salt in the liquid, kg/m³
	Share   bath.Range // of dry salt by mass
	Forms   []Form     // the same dry salt by every form that it may be, when not said
	Settles bool       // more than the water takes up
}

// Form is the mass of one form of washing soda that gives the same bath.
type Form struct {
	Product bath.Product
	Mass    float64 // kg
}

// RecipeOf returns the recipe for a volume of liquid, m³; false when the job gives no soda
// or one that is refused.
func RecipeOf(j *job.Job, liquid float64) (Recipe, bool) {
	s := j.Bath.Soda
	if s == nil || s.Bad != job.NoAdditive {
		return Recipe{}, false
	}
	dose, err := s.Range()
	if err != nil {
		return Recipe{}, false
	}
	r := Recipe{Product: bath.Monohydrate, Said: s.Said, Mass: dose.Scale(liquid)}
	low, high := bath.Decahydrate, bath.Anhydrous
	if s.Said {
		r.Product, low, high = s.Product, s.Product, s.Product
	}
	t := j.Bath.Kelvin()
	of := func(p bath.Product, dose float64) bath.Recipe {
		return bath.Recipe{Product: p, Dose: dose, Temperature: t}
	}
	weak, usual, strong := of(low, dose.Low), of(r.Product, dose.Mid), of(high, dose.High)
	r.Dry = bath.Range{Low: weak.Dry(), Mid: usual.Dry(), High: strong.Dry()}
	r.Share = bath.Range{Low: weak.MassShare(), Mid: usual.MassShare(), High: strong.MassShare()}
	if spoons, err := bath.Spoons(r.Product, r.Mass.Mid, bath.TablespoonUS); err == nil {
		r.Spoons = spoons
	}
	if r.Product.Salt() == bath.Carbonate {
		r.Settles = r.Share.Mid > bath.Solubility(t)
		for _, p := range bath.WashingSodas() {
			r.Forms = append(r.Forms, Form{p, r.Dry.Mid * liquid / p.Share()})
		}
	}
	return r, true
}

// FormsFor returns what each form of washing soda takes to make a volume of liquid, m³, conduct
// as the job measured it: to check by, and for the next bath. nil when the tables do not
// reach so far.
func FormsFor(j *job.Job, liquid float64) []Form {
	var out []Form
	for _, p := range bath.WashingSodas() {
		dose, err := bath.DoseFor(p, j.Bath.Conductivity, j.Bath.Kelvin())
		if err != nil {
			return nil
		}
		out = append(out, Form{p, dose.Mid * liquid})
	}
	return out
}
