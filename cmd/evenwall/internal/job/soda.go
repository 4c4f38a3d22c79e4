package job

import (
	"regexp"

	"evenwall/field/bath"
)

// Soda is what is put into the water.
type Soda struct {
	Said    bool // the job says which product it is; false: washing soda of a form unknown
	Product bath.Product
	Bad     Additive // what must not go in; NoAdditive with a product
	Dose    float64  // of product as bought, kg/m³ (the same number as g/L); 0 with Spoon
	Spoon   float64  // level measure of product over liquid, m³/m³; 0 with Dose
}

// Additive is something that people put into such a bath and that does harm there.
type Additive int

const (
	NoAdditive Additive = iota
	TableSalt
	Acid
	Bleach
)

// form is what the bag or bottle holds.
type form struct {
	product bath.Product
	bad     Additive
}

// forms are the words of bath.soda.form; those of the products are the products' own.
func forms() []option[form] {
	var out []option[form]
	for _, p := range bath.Products() {
		out = append(out, option[form]{p.String(), form{product: p}})
	}
	return append(out,
		option[form]{"table salt", form{bad: TableSalt}}, option[form]{"acid", form{bad: Acid}},
		option[form]{"vinegar", form{bad: Acid}}, option[form]{"bleach", form{bad: Bleach}})
}

func readSoda(v value) *Soda {
	if !v.given() {
		return nil
	}
	f := v.fields()
	kind := choice(f.get("form"), forms())
	s := &Soda{Said: f.get("form").given(), Product: kind.product, Bad: kind.bad}
	s.Dose, s.Spoon = readDose(f.need("dose", "grams of product as bought for each litre, such as 4 g/L"))
	f.finish()
	if s.Spoon > 0 && s.Bad == NoAdditive {
		if _, err := s.Range(); err != nil {
			f.get("dose").faultf("%v", err)
		}
	}
	return s
}

// spoonful is a dose by measure: so many tablespoons or cups a gallon, or mL a litre.
var spoonful = regexp.MustCompile(`^([0-9./ ]+?) *(tbsp/gal|cup/gal|mL/L|ml/L)$`)

// spoons are the measures, m³ over m³. A tablespoon is a 256th of a gallon and a cup a
// 16th, US or imperial alike.
func spoons(unit string) float64 {
	switch unit {
	case "tbsp/gal":
		return bath.TablespoonUS / bath.GallonUS
	case "cup/gal":
		return 16 * bath.TablespoonUS / bath.GallonUS
	}
	return 1e-3
}

func readDose(v value) (mass, spoon float64) {
	text, ok := v.single("a dose such as 4 g/L")
	if m := spoonful.FindStringSubmatch(text); ok && m != nil {
		x, good := ratio(m[1])
		if !good {
			var err error
			x, err = plain(m[1])
			good = err == nil
		}
		if !good || !(x > 0) {
			v.faultf("%q is no measure above 0: give such as 1 tbsp/gal, better 4 g/L by the scales", text)
			return 0, 0
		}
		return 0, x * spoons(m[2])
	}
	return v.quantity(dose, positive), 0
}

// products returns what the soda may be: the product said, or every form of washing soda
// with the one that the middle is taken of first.
func (s *Soda) products() []bath.Product {
	if s.Said {
		return []bath.Product{s.Product}
	}
	return []bath.Product{bath.Monohydrate, bath.Anhydrous, bath.Decahydrate}
}

// doses returns the product in each m³ of liquid, kg, over what a spoon may hold.
func (s *Soda) doses(p bath.Product) (bath.Range, error) {
	if s.Spoon == 0 {
		return bath.Exactly(s.Dose), nil
	}
	bulk, err := bath.BulkDensity(p)
	return bulk.Scale(s.Spoon), err
}

// Range returns the product in each m³ of liquid, kg: Low and High over the forms that it
// may be and what a level spoon of them holds.
func (s *Soda) Range() (bath.Range, error) {
	var out bath.Range
	for i, p := range s.products() {
		d, err := s.doses(p)
		if err != nil {
			return bath.Range{}, err
		}
		if i == 0 {
			out = d
		}
		out = out.Union(d)
	}
	return out, nil
}

// Conductivity returns that of the bath by the recipe at a temperature, K, S/m, over the forms
// that the soda may be, what a spoon holds, and the table's own error. What the water
// brings along counts in High only.
func (s *Soda) Conductivity(temperature float64) (bath.Range, error) {
	var out bath.Range
	for i, p := range s.products() {
		band, err := s.conductivity(p, temperature)
		if err != nil {
			return bath.Range{}, err
		}
		if i == 0 {
			out = band
		}
		out = out.Union(band)
	}
	out.High += bath.TapWater().High
	return out, nil
}

func (s *Soda) conductivity(p bath.Product, temperature float64) (bath.Range, error) {
	d, err := s.doses(p)
	var of [3]bath.Range
	for k, dose := range [3]float64{d.Low, d.Mid, d.High} {
		if err == nil {
			of[k], err = bath.Recipe{Product: p, Dose: dose, Temperature: temperature}.Conductivity()
		}
	}
	return bath.Range{Low: of[0].Low, Mid: of[1].Mid, High: of[2].High}, err
}
