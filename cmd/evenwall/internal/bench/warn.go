package bench

import (
	"fmt"
	"strings"

	"evenwall/cmd/evenwall/internal/job"
)

// Warnings returns what to look out for with this tank, short enough for the sheet.
func Warnings(j *job.Job) []string {
	m := &j.Materials
	var out []string
	if m.Tank == job.Terne {
		out = append(out, "Terne sheet: its lead goes into the bath and the sludge. Gloves, no sanding; the sludge is lead waste.")
	}
	if m.Tank == job.Galvanised {
		out = append(out, "Galvanised wall: its zinc goes into the bath, most while the current is off. Empty the bath whenever it is off for long.")
	}
	switch m.Seams {
	case job.Soldered:
		out = append(out, "Soldered seams and repairs: lead and tin dissolve slowly, more with the current off. They may open: watch for drips.")
	case job.Brazed, job.SeamsUnknown:
		out = append(out, "Seams brazed or unknown: they may hold by rust alone. Watch for drips.")
	}
	if m.Pinholes == job.Yes {
		out = append(out, "Pinholes known: rust may be all that seals them, and more will show. Tray under the tank.")
	}
	if text := fittings(m.Fittings); text != "" {
		out = append(out, text)
	}
	out = append(out, riser(j)...)
	return out
}

// Caution returns what to know before handling the soda; "" when the job gives none.
func Caution(j *job.Job) string {
	s := j.Bath.Soda
	if s == nil || s.Bad != job.NoAdditive {
		return ""
	}
	return sentence(s.Product.Caution()) // of a form that is not said: washing soda's
}

// fittings says what fittings left in do.
func fittings(left []job.Metal) string {
	var names []string
	for _, f := range left {
		switch f {
		case job.Brass, job.Copper, job.Zinc, job.Galvanised, job.Lead:
			names = append(names, f.String())
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "Left in: " + strings.Join(names, " and ") + ". It must hang on the tank's negative, or it dissolves; better out."
}

// sentence begins with a capital and ends with a full stop.
func sentence(text string) string {
	return strings.ToUpper(text[:1]) + strings.TrimSuffix(text[1:], ".") + "."
}

// gasRoom is the least room across a riser that rod or sleeve leave to gas and froth, m (common
// practice, no source).
const gasRoom = 0.02

// riser holds the rods against the riser that they stand in.
func riser(j *job.Job) []string {
	var out []string
	for _, s := range Stations(j) {
		for i := range s.Anodes {
			a := &s.Anodes[i]
			for _, o := range j.Tank.Openings {
				if o.Name != a.Through || j.Riser.Bore == 0 {
					continue
				}
				if thick := 2 * max(a.Radius, a.Sleeve); j.Riser.Bore < thick+gasRoom {
					out = append(out, fmt.Sprintf("The riser's bore of %.0f mm leaves rod %q of %.0f mm too little room for froth: take a wider one.", 1000*j.Riser.Bore, a.Name, 1000*thick))
				}
			}
		}
	}
	return out
}
