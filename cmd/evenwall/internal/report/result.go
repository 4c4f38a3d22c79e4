package report

// Result is result.json. A part that a command does not deal with is nil and left out.
// Lengths are mm, volumes litres and angles degrees, as the keys say.
type Result struct {
	Job       int         `json:"job"` // version of the format
	Command   string      `json:"command"`
	Title     string      `json:"title"`
	Surface   *Surface    `json:"surface,omitempty"`
	Volumes   *Volumes    `json:"enclosed,omitempty"`
	Tank      Tank        `json:"tank"`
	Stances   *Stances    `json:"attitudes,omitempty"`
	Bath      Bath        `json:"bath"`
	Section   *Section    `json:"section,omitempty"`
	Cell      *Cell       `json:"cell,omitempty"`
	Wall      *Wall       `json:"wall,omitempty"`
	Clearance *Clearance  `json:"clearance,omitempty"`
	Stations  []Station   `json:"stations,omitempty"`
	Hours     *float64    `json:"hours_total,omitempty"` // nil when the aim is never reached
	Turning   *Turning    `json:"turning,omitempty"`
	Reached   *Reached    `json:"reached_fraction_after_days,omitempty"`
	Within    *Within     `json:"within,omitempty"`
	ChargeAH  *float64    `json:"charge_total_ah,omitempty"` // where the least was wanted
	Weights   string      `json:"weights,omitempty"`         // in words; empty: all wall counts alike
	Spared    []Spared    `json:"spared,omitempty"`
	Laws      *Laws       `json:"by_law,omitempty"`
	OffMeant  *OffMeant   `json:"off_plan,omitempty"`
	Search    *Search     `json:"search,omitempty"`
	Unreached []Unreached `json:"unreached,omitempty"`           // by any layout, the largest first
	CrumbsM2  float64     `json:"unreached_crumbs_m2,omitempty"` // in pieces too small to be named
	Bench     *Bench      `json:"bench,omitempty"`

	Comparison *Comparison `json:"comparison,omitempty"`

	Log      *Log     `json:"log,omitempty"`
	Solver   *Solver  `json:"solver,omitempty"`
	Checks   []Check  `json:"checks,omitempty"`
	Warnings []string `json:"warnings"`
}

// Point is [x, y, z] in the tank's own frame, mm.
type Point [3]float64

// Surface is what was found on the surface that was read.
type Surface struct {
	Facets     int      `json:"facets"`
	Shells     int      `json:"shells"`
	OpenEdges  int      `json:"open_edges"`
	SizeMM     Point    `json:"size_mm"`
	AreaM2     float64  `json:"area_m2"`
	Found      []string `json:"found"`                 // faults and what was done about each
	Holes      []Hole   `json:"holes"`                 // the widest first, mostHoles at most
	LikelyUnit string   `json:"likely_unit,omitempty"` // that the capacity points to
	OpeningsMM []Ring   `json:"openings_found,omitempty"`
}

// Hole is a gap in a surface that was closed.
type Hole struct {
	TakenFor string  `json:"taken_for"` // wall, slit, or the name of an opening
	AcrossMM float64 `json:"across_mm"`
	AreaMM2  float64 `json:"area_mm2"`
	CentreMM Point   `json:"centre_mm"`
}

// Volumes are all of the inside by independent ways, which agree where the surface is sound.
type Volumes struct {
	FormulaL *float64 `json:"formula_l,omitempty"` // of a shape that has one
	FacetsL  float64  `json:"facets_l"`            // by the divergence theorem
	LatticeL float64  `json:"lattice_l"`           // by counting cells
}

// Ring is a round opening that was found in a surface.
type Ring struct {
	CentreMM   Point   `json:"centre_mm"`
	Axis       Point   `json:"axis"` // outward, of length 1
	DiameterMM float64 `json:"diameter_mm"`
}

// Tank is the vessel with what stands in it.
type Tank struct {
	VolumeL      float64     `json:"volume_l"`              // liquid, rods and sleeves taken off
	CapacityL    float64     `json:"capacity_l"`            // to the brim in this attitude
	WettedAreaM2 float64     `json:"wetted_area_m2"`        // baffles count on both faces
	BlindM2      float64     `json:"near_level_ceiling_m2"` // of the wetted wall: may be blinded by gas
	Seams        []string    `json:"seams,omitempty"`       // where they run, as the job notes
	AirPockets   []AirPocket `json:"air_pockets"`
}

// Bath is the liquid; conductivity 0 when the job does not say it.
type Bath struct {
	ConductivitySM float64 `json:"conductivity_s_m"`
	LevelMM        float64 `json:"level_mm"` // plumb above the lowest inside point
}

// Cell is the operating point.
type Cell struct {
	CurrentA      float64 `json:"current_a"`
	VoltageV      float64 `json:"voltage_v"`
	ResistanceOhm float64 `json:"resistance_ohm"`
	LimitedBy     string  `json:"limited_by"` // voltage or current
	Anodes        []Anode `json:"anodes"`
}

// Section is a level section solved in two dimensions, per metre of the rods.
type Section struct {
	HeightMM       float64 `json:"height_mm"` // above the lowest inside point
	CurrentAM      float64 `json:"current_a_m"`
	ResistanceOhmM float64 `json:"resistance_ohm_m"`
	OutlineMM      float64 `json:"outline_mm"` // length of the wall in the section
}

// Anode is what one rod carries.
type Anode struct {
	Name     string  `json:"name"`
	CurrentA float64 `json:"current_a"`
	MostAM2  float64 `json:"most_a_m2"` // largest current density on its bare metal
}

// Wall is the distribution of current density over the wetted wall, by area.
type Wall struct {
	MeanAM2           float64     `json:"mean_a_m2"`
	PercentileAM2     Percentiles `json:"percentile_a_m2"`
	AreaFractionBelow Below       `json:"area_fraction_below"` // shares of the mean
	ReachFraction     float64     `json:"reach_fraction"`      // at or above the aim's least
	FluxClosure       float64     `json:"flux_closure"`        // recovered over the field's, before scaling
	Rules             []Rule      `json:"wagner,omitempty"`    // what decides the spread
	Sure              *Sure       `json:"error_estimate,omitempty"`
}

// Rule is what decides how the current spreads where the wall gets a current density.
type Rule struct {
	AtAM2  float64 `json:"at_a_m2"`
	Wagner float64 `json:"number"`
	Words  string  `json:"words"`
}

// Sure is how far the figures may be off by the lattice, from solving on others, in percent
// of each figure; the reach in percent of the wetted wall.
type Sure struct {
	CurrentPercent    float64     `json:"current_percent"`
	PercentilePercent Percentiles `json:"percentile_percent"`
	ReachPercent      float64     `json:"reach_percent"`
	GasPercent        float64     `json:"gas_takes_percent"` // of the current, by the gas that rises round the rods
	Uneven            []Uneven    `json:"uneven_bath"`
	SpacingsMM        []float64   `json:"spacings_mm"`
}

// Uneven is by how much an uneven bath changes figures that are for an even one.
type Uneven struct {
	What           string  `json:"what"`
	CurrentPercent float64 `json:"current_percent"`
	P5Percent      float64 `json:"p5_percent"` // of the wall's current, as its median and p95
	P50Percent     float64 `json:"p50_percent"`
	P95Percent     float64 `json:"p95_percent"`
}

// Percentiles are current densities, A/m²: patches up to it hold that percentage of
// the wetted area.
type Percentiles struct {
	P1  float64 `json:"1"`
	P5  float64 `json:"5"`
	P25 float64 `json:"25"`
	P50 float64 `json:"50"`
	P75 float64 `json:"75"`
	P95 float64 `json:"95"`
	P99 float64 `json:"99"`
}

// Below are fractions of the wetted area with less than that share of the mean.
type Below struct {
	Tenth   float64 `json:"0.1"`
	Quarter float64 `json:"0.25"`
	Half    float64 `json:"0.5"`
}

// Station is a position with its time.
type Station struct {
	Name  string  `json:"name"`
	Hours float64 `json:"hours"`

	Stance *StationStance `json:"attitude,omitempty"` // where the tank is turned between stations
}

// Reached are fractions of the reachable wall that have their charge after so many days.
type Reached struct {
	One   float64 `json:"1"`
	Three float64 `json:"3"`
	Ten   float64 `json:"10"`
}

// Search is how the layout was found and what it is compared with.
type Search struct {
	Bent        *BentTried `json:"bent,omitempty"`     // where bent rods may be tried
	Flexible    *BentTried `json:"flexible,omitempty"` // where flexible anodes may be tried
	Tried       int        `json:"tried"`
	Refused     int        `json:"refused"` // candidates that came too near, or did not fit
	ReachableM2 float64    `json:"reachable_m2"`
	Fewer       []string   `json:"fewer_rods,omitempty"`   // why there are fewer rods at once than the job allows
	Naive       *Judged    `json:"naive,omitempty"`        // plumb down the middle of the filler, bare to the liquid
	Others      []Other    `json:"alternatives,omitempty"` // clearly different single positions, the best first
}

// BentTried is how the bent rods, or the flexible ones, among the layouts tried fared.
type BentTried struct {
	Tried      int          `json:"tried"`
	Fitted     int          `json:"fitted"`
	LookedUp   int          `json:"looked_up"`  // whose wall current was found
	WaySought  int          `json:"way_sought"` // for which a way in was looked for: only those that do well
	TurnedDown []TurnedDown `json:"turned_down"`
}

// TurnedDown is a reason with how many layouts it kept out.
type TurnedDown struct {
	Why   string `json:"why"`
	Count int    `json:"count"`
}

// Other is an alternative, judged on the search's coarse lattice.
type Other struct {
	Judged
	Rods []string `json:"rods"` // where each hangs, in words
}

// Judged is another layout by the same measure; Hours nil when it never gets there.
type Judged struct {
	Hours         *float64 `json:"hours_total,omitempty"`
	Reached       Reached  `json:"reached_fraction_after_days"`
	InTime        *float64 `json:"reached_fraction_within,omitempty"` // where the aim gives a time
	ChargeAH      *float64 `json:"charge_total_ah,omitempty"`         // where the least is wanted
	ReachFraction float64  `json:"reach_fraction"`
	ClearanceMM   float64  `json:"clearance_mm"`
}

// Solver is how the field was computed. Seconds is the only figure that differs from
// run to run.
type Solver struct {
	SpacingMM  float64 `json:"spacing_mm"`
	Unknowns   int     `json:"unknowns"`
	Iterations int     `json:"iterations"`
	Residual   float64 `json:"residual"`
	Seconds    float64 `json:"seconds"`
}

// Check is a limit that the job states, and whether it is met.
type Check struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Limit float64 `json:"limit"`
	Unit  string  `json:"unit"`
	Met   bool    `json:"met"`
}

// Missed reports whether a limit that the job states is not met.
func (r *Result) Missed() bool {
	for _, c := range r.Checks {
		if !c.Met {
			return true
		}
	}
	return false
}
