package bench

import "evenwall/cmd/evenwall/internal/job"

// Question is something that a sheet cannot be made without knowing.
type Question struct {
	Key  string // of the job
	Asks string
}

// Text returns the question as a line of an error.
func (q Question) Text() string { return "is missing: " + q.Asks }

// Questions returns what the job does not say and a sheet needs.
func Questions(j *job.Job) []Question {
	m := &j.Materials
	var out []Question
	ask := func(missing bool, key, asks string) {
		if missing {
			out = append(out, Question{key, asks})
		}
	}
	ask(m.Vessel == job.VesselUnsaid, "materials.vessel", "what was it made for: tank (neither pressure, lpg, air, hydraulic, aircraft nor walk-in)?")
	ask(m.Place == job.PlaceUnsaid, "materials.place", "where is it: bench (taken out and parted from all lines), vehicle or plumbed in?")
	ask(m.Tank == job.MetalUnsaid, "materials.tank", "what is it made of: steel, terne, galvanised, another metal, or unknown?")
	ask(m.Coating == job.CoatingUnsaid, "materials.coating", "what lies on the inside beside rust: none, lining, varnish or unknown?")
	ask(m.Seams == job.SeamsUnsaid, "materials.seams", "how are seams and repairs made: welded, folded, soldered, brazed or unknown?")
	ask(m.Held == job.ContentsUnsaid, "materials.held", "what did it hold: water, spray, oil, fuel or unknown?")
	ask(m.Emptied == job.Unsaid, "materials.emptied", "is it emptied: yes or no?")
	ask(m.Flushed == job.Unsaid, "materials.flushed", "is it flushed: yes or no?")
	ask(m.Rod == job.MetalUnsaid, "materials.rod", "what is the rod made of: steel or graphite, or another metal?")
	ask(j.NegativeAt == "", "negative_at", "where does the negative clip go: a bare lug or the thread of a bung, never the filler's lip?")
	b := j.Supply.Box
	ask(b == nil || b.Isolated == job.Unsaid, "supply.isolated", "is the supply isolated from the mains and from everything else: yes or no?")
	ask(b == nil || b.Kind == job.KindUnsaid, "supply.kind", "what kind of supply is it: plain (a charger with transformer and rectifier), smart, bench or battery?")
	ask(j.Bath.Conductivity == 0 && j.Bath.First == (job.Reading{}), "bath.soda", "what goes into the water, such as {form: anhydrous, dose: 4 g/L}; or the conductivity as measured?")
	return out
}
