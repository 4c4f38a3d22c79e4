package render

import "image"

// Charge draws what charge the whole wall has had, as Wall draws current density: the figures of the
// surface and Least are A h/m², the patches of the scene those that lack some of theirs.
func Charge(s Scene, set Settings) (*image.RGBA, error) {
	s.charge = true
	return Wall(s, set)
}

// wording is what a picture of the wall calls its figures.
type wording struct{ subject, title, unit, hatched, listed string }

func (s *Scene) wording() wording {
	if s.charge {
		return wording{"The tank's wall seen from inside, after all stations. Dark: little charge; bright: much.",
			"Charge of the whole schedule, A h/m²", "A h/m²", "less than its charge", "Less than its charge"}
	}
	return wording{"The tank's wall seen from inside. Dark: little current; bright: much.",
		"Current density of the wall, A/m²", "A/m²", "least reached", "Least reached"}
}
