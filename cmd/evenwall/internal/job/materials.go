package job

// Materials is what a person knows of the vessel, its former contents and the rod. The zero
// value of each is that the job does not say.
type Materials struct {
	Vessel   Vessel
	Place    Place
	Tank     Metal
	Coating  Coating // of the inside
	Seams    Seams   // repairs included
	Held     Contents
	Emptied  Answer
	Flushed  Answer
	Pinholes Answer
	Fittings []Metal  // left in, by what they are made of
	Loose    []string // what lies or hangs loose inside
	Rod      Metal
	Sheet    float64 // thickness of the wall, m; 0 when not said
}

// Vessel is what the tank was made for.
type Vessel int

const (
	VesselUnsaid Vessel = iota
	PlainTank
	PressureVessel
	LPGTank
	AirReceiver
	HydraulicTank
	AircraftTank
	WalkIn // a person can get in
)

var vessels = []option[Vessel]{{"tank", PlainTank}, {"pressure", PressureVessel}, {"lpg", LPGTank},
	{"air", AirReceiver}, {"hydraulic", HydraulicTank}, {"aircraft", AircraftTank}, {"walk-in", WalkIn}}

// Place is where the tank is while it is worked on.
type Place int

const (
	PlaceUnsaid Place = iota
	OnBench
	OnVehicle
	PlumbedIn
)

var places = []option[Place]{{"bench", OnBench}, {"vehicle", OnVehicle}, {"plumbed in", PlumbedIn}}

// Metal is what a tank, a fitting or a rod is made of, or plated with.
type Metal int

const (
	MetalUnsaid Metal = iota
	MildSteel
	Graphite
	Galvanised
	Terne // steel sheet coated with lead and tin
	Stainless
	Plated
	ChromeAlloy
	Zinc
	Copper
	Brass
	Lead
	Aluminium
	Magnesium
	Plastic
	Rubber
	MetalUnknown
)

var metals = []option[Metal]{{"steel", MildSteel}, {"graphite", Graphite}, {"galvanised", Galvanised}, {"terne", Terne},
	{"stainless", Stainless}, {"plated", Plated}, {"chrome alloy", ChromeAlloy}, {"zinc", Zinc}, {"copper", Copper}, {"brass", Brass},
	{"lead", Lead}, {"aluminium", Aluminium}, {"magnesium", Magnesium}, {"plastic", Plastic}, {"rubber", Rubber}, {"unknown", MetalUnknown},
	{"galvanized", Galvanised}, {"aluminum", Aluminium}}

// String gives the word of the job file.
func (m Metal) String() string { return word(metals, m) }

// Coating is what lies on the inside of the wall, beside rust.
type Coating int

const (
	CoatingUnsaid Coating = iota
	Bare
	Lined
	Varnished // by old fuel, or with paint
	CoatingUnknown
)

var coatings = []option[Coating]{{"none", Bare}, {"lining", Lined}, {"varnish", Varnished}, {"unknown", CoatingUnknown}}

// Seams is how the sheets are joined.
type Seams int

const (
	SeamsUnsaid Seams = iota
	Welded
	Folded
	Soldered
	Brazed
	SeamsUnknown
)

var seams = []option[Seams]{{"welded", Welded}, {"folded", Folded}, {"soldered", Soldered}, {"brazed", Brazed}, {"unknown", SeamsUnknown}}

// Contents is what the tank held before.
type Contents int

const (
	ContentsUnsaid Contents = iota
	Water
	Spray // what an orchard is sprayed with
	Oil
	Fuel
	ContentsUnknown
)

var contents = []option[Contents]{{"water", Water}, {"spray", Spray}, {"oil", Oil}, {"fuel", Fuel}, {"unknown", ContentsUnknown}}

func readMaterials(v value) Materials {
	f := v.fields()
	m := Materials{
		Vessel:   choice(f.get("vessel"), vessels),
		Place:    choice(f.get("place"), places),
		Tank:     choice(f.get("tank"), metals),
		Coating:  choice(f.get("coating"), coatings),
		Seams:    choice(f.get("seams"), seams),
		Held:     choice(f.get("held"), contents),
		Emptied:  choice(f.get("emptied"), answers),
		Flushed:  choice(f.get("flushed"), answers),
		Pinholes: choice(f.get("pinholes"), answers),
		Rod:      choice(f.get("rod"), metals),
		Sheet:    f.get("sheet").quantity(length, positive),
	}
	for _, entry := range f.get("fittings").list("what the fittings left in are made of, such as [brass]") {
		if metal := choice(entry, metals); metal != MetalUnsaid {
			m.Fittings = append(m.Fittings, metal)
		}
	}
	for _, entry := range f.get("loose").list("what lies or hangs loose inside, such as [chain, strainer]") {
		if text := entry.text(); text != "" {
			m.Loose = append(m.Loose, text)
		}
	}
	f.finish()
	return m
}

// Riser is a plastic tube that stands on the filler and takes the froth. The zero value is
// none.
type Riser struct {
	Height float64 // above the rim, m
	Bore   float64 // m
}

func readRiser(v value) Riser {
	f := v.fields()
	r := Riser{
		Height: f.need("height", "how far it stands above the filler, such as 120").quantity(length, positive),
		Bore:   f.need("bore", "its inside diameter, such as 50").quantity(length, positive),
	}
	f.finish()
	return r
}
