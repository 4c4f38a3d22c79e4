package job

// Skin is the face of the steel that a surface shows. The zero value is the inner one.
type Skin struct {
	Outside bool    // a scan from outside: Sheet is taken off
	Sheet   float64 // thickness of the steel, m; 0 with the inner one
}

var skins = []option[bool]{{"inside", false}, {"outside", true}}

// readSkin reads skin and sheet, which go with a surface only, and sheet with an outside
// skin only.
func readSkin(f *fields, surface bool) Skin {
	skin, sheet := f.get("skin"), f.get("sheet")
	var s Skin
	if !surface {
		for _, v := range [2]value{skin, sheet} {
			if v.given() {
				v.faultf("goes with a surface: leave it out, a shape is the inside")
			}
		}
		return s
	}
	s.Outside = choice(skin, skins)
	switch {
	case s.Outside && !sheet.given():
		skin.faultf("is outside and sheet is not said: give the thickness of the steel, such as sheet: 1.0 mm")
	case s.Outside:
		s.Sheet = sheet.quantity(length, positive)
		if s.Sheet > thickestSheet {
			sheet.faultf("%s is no sheet: give the thickness of the steel, at most %s", length.format(s.Sheet), length.format(thickestSheet))
		}
	case sheet.given():
		sheet.faultf("goes with skin: outside, whose sheet is taken off: leave it out")
	}
	return s
}

// thickestSheet is the thickest steel that is taken off an outside skin, m.
const thickestSheet = 0.02

// skin writes the keys of a skin that is not the default.
func (p *page) skin(s Skin) {
	if s.Outside {
		p.line("  skin: outside")
		p.line("  sheet: %s", length.format(s.Sheet))
	}
}
