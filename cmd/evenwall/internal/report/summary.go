package report

import (
	"fmt"
	"math"
	"strings"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
)

// Summary returns the text for the terminal: the findings, and the cautions for what is
// done on them.
func Summary(a *Answer) string {
	return Findings(a) + cautionsFor(a.Result.Command)
}

// Findings returns what was computed, against which limits it was held, and what to
// look at by hand.
func Findings(a *Answer) string {
	t, r := &table{}, &a.Result
	fmt.Fprintf(t, "%s: %s\n", r.Title, r.Command)
	t.surface(r.Surface)
	t.volumes(r.Volumes)
	t.tank(r)
	t.stances(r.Stances)
	t.layout(a.Layout)
	t.section(r.Section)
	t.cell(r.Cell)
	t.wall(r.Wall)
	t.schedule(r)
	t.turning(r)
	t.laws(r.Laws)
	t.offMeant(r.OffMeant)
	t.search(r)
	t.unreached(r.Unreached, r.CrumbsM2)
	t.comparison(r)
	t.bench(r.Bench)
	t.log(r.Log)
	t.clearance(r.Clearance)
	t.checks(r.Checks)
	t.solver(r.Solver)
	t.paste(r.Surface)
	t.lines("warnings", r.Warnings)
	return t.String()
}

func (t *table) surface(s *Surface) {
	if s == nil {
		return
	}
	t.heading("surface")
	t.row("facets", "%d in %s, %s", s.Facets, plural(s.Shells, "piece"), plural(s.OpenEdges, "open edge"))
	t.row("size", "%s along x, %s along y, %s high", mm1(s.SizeMM[0]), mm1(s.SizeMM[1]), mm1(s.SizeMM[2]))
	t.row("area", "%s m2", figure(s.AreaM2))
	for i, line := range s.Found {
		key := ""
		if i == 0 {
			key = "found and mended"
		}
		t.row(key, "%s", line)
	}
}

func (t *table) volumes(v *Volumes) {
	if v == nil {
		return
	}
	t.heading("all of the inside, to the highest point")
	if v.FormulaL != nil {
		t.row("by formula", "%.3f L", *v.FormulaL)
	}
	t.row("by facets", "%.3f L", v.FacetsL)
	t.row("by lattice", "%.3f L", v.LatticeL)
}

func (t *table) tank(r *Result) {
	t.heading("tank and bath")
	t.row("holds", "%s L to the brim in this attitude", figure(r.Tank.CapacityL))
	t.row("liquid", "%s L, level %s above the lowest inside point", figure(r.Tank.VolumeL), mm1(r.Bath.LevelMM))
	t.row("wetted wall", "%s m2", figure(r.Tank.WettedAreaM2))
	t.air(&r.Tank)
	if r.Bath.ConductivitySM > 0 {
		t.row("conductivity", "%s S/m", figure(r.Bath.ConductivitySM))
	}
}

// layout says where each rod hangs.
func (t *table) layout(j *job.Job) {
	if j == nil {
		return
	}
	t.heading("where the rods hang")
	for _, s := range append(j.Stations, unnamed(j)...) {
		if s.Name != "" && s.Duration > 0 {
			t.row(s.Name, "%s h", figure(s.Duration/3600))
		}
		for i := range s.Anodes {
			t.rod(&s.Anodes[i])
		}
	}
}

// unnamed returns the anodes of a job without stations as one station.
func unnamed(j *job.Job) []job.Station {
	if len(j.Stations) > 0 {
		return nil
	}
	return []job.Station{j.First()}
}

func (t *table) rod(a *job.Anode) {
	t.row(a.Name, "%s across, through the %s", mm1(2e3*a.Radius), a.Through)
	t.row("", "tip at %s, top at %s", millimetres(a.Path[0]).text(), millimetres(a.Path[len(a.Path)-1]).text())
	if b := a.Bend; b.Radius > 0 {
		t.row("", "bent once by %.0f degrees round a radius of %s, the corner of its axis at %s", a.Turning()*180/math.Pi, mm1(1e3*b.Radius), millimetres(b.Corner).text())
	}
	if a.Slack > 0 {
		t.row("", "flexible, takes a radius of %s; %s", mm1(1e3*a.Slack), spacerWords(a))
	}
	t.row("", "bare %s from the tip, under plastic elsewhere", bareWords(a))
}

// spacerWords says where an anode's spacers sit.
func spacerWords(a *job.Anode) string {
	if len(a.Spacers) == 0 {
		return "no spacers"
	}
	at := make([]string, len(a.Spacers))
	for i, s := range a.Spacers {
		at[i] = fmt.Sprintf("%.0f", 1e3*s.At)
	}
	return fmt.Sprintf("spacers of %s at %s mm from the tip", mm1(2e3*a.Spacers[0].Radius), strings.Join(at, ", "))
}

// bentTried says how bent rods fared, or flexible ones.
func (t *table) bentTried(kind string, b *BentTried) {
	if b == nil {
		return
	}
	t.row("of them "+kind, "%d, of which %d fit; a way in was looked for with the best %d", b.Tried, b.Fitted, b.WaySought)
	for _, d := range b.TurnedDown {
		t.row("", "%d turned down: %s", d.Count, d.Why)
	}
}

func bareWords(a *job.Anode) string {
	spans := make([]string, len(a.Bare))
	for i, s := range a.Bare {
		spans[i] = fmt.Sprintf("%.0f to %.0f mm", 1e3*s.From, 1e3*s.To)
	}
	return strings.Join(spans, " and ")
}

// RodWords says on one line where a rod hangs.
func RodWords(a *job.Anode) string {
	bent := ""
	if a.Bend.Radius > 0 {
		bent = fmt.Sprintf("bent by %.0f degrees about %s, ", a.Turning()*180/math.Pi, millimetres(a.Bend.Corner).text())
	}
	if a.Slack > 0 {
		bent = fmt.Sprintf("flexible, lying on %d spacers, ", len(a.Spacers))
	}
	return fmt.Sprintf("%s across, through the %s, tip at %s, %stop at %s, bare %s from the tip", mm1(2e3*a.Radius), a.Through,
		millimetres(a.Path[0]).text(), bent, millimetres(a.Path[len(a.Path)-1]).text(), bareWords(a))
}

func millimetres(v geometry.Vec) Point { return Point{1e3 * v.X, 1e3 * v.Y, 1e3 * v.Z} }

func (t *table) section(s *Section) {
	if s == nil {
		return
	}
	t.heading("level section, in two dimensions")
	t.row("height", "%s above the lowest inside point", mm1(s.HeightMM))
	t.row("outline", "%s of wall", mm1(s.OutlineMM))
	t.row("current", "%s A for each metre of bare rod, the supply at its open voltage", figure(s.CurrentAM))
	t.row("resistance", "%s ohm for one metre", figure(s.ResistanceOhmM))
}

func (t *table) cell(c *Cell) {
	if c == nil {
		return
	}
	t.heading("current")
	t.row("in all", "%s A at %s V, limited by the %s", figure(c.CurrentA), figure(c.VoltageV), c.LimitedBy)
	t.row("resistance", "%s ohm", figure(c.ResistanceOhm))
	for _, a := range c.Anodes {
		t.row(a.Name, "%s A, at most %s A/m2 on its metal", figure(a.CurrentA), figure(a.MostAM2))
	}
}

func (t *table) wall(w *Wall) {
	if w == nil {
		return
	}
	t.heading("what the wall gets")
	t.row("mean", "%s A/m2", figure(w.MeanAM2))
	t.row("least and most", "5 %% of it under %s A/m2, 5 %% over %s A/m2",
		figure(w.PercentileAM2.P5), figure(w.PercentileAM2.P95))
	t.row("half of it under", "%s A/m2", figure(w.PercentileAM2.P50))
	t.row("reached", "%s of the wetted wall has the aim's least or more", percent(w.ReachFraction))
	t.row("under half the mean", "%s of the wetted wall", percent(w.AreaFractionBelow.Half))
	for _, r := range w.Rules {
		t.row("at "+figure(r.AtAM2)+" A/m2", "%s (Wagner number %s)", r.Words, figure(r.Wagner))
	}
	t.sure(w.Sure)
}

// sure says how far the figures may be off by the lattice.
func (t *table) sure(s *Sure) {
	if s == nil {
		return
	}
	p := s.PercentilePercent
	t.heading("how sure, from other lattices")
	t.row("current", "+- %s %%", figure(s.CurrentPercent))
	t.row("what the wall gets", "5 %%: +- %s %%, 25 %%: +- %s %%, half: +- %s %%, 75 %%: +- %s %%, 95 %%: +- %s %%",
		figure(p.P5), figure(p.P25), figure(p.P50), figure(p.P75), figure(p.P95))
	t.row("reached", "+- %s %% of the wetted wall", figure(s.ReachPercent))
	t.heading("what an uneven bath changes; not in the figures above")
	for _, u := range s.Uneven {
		t.row(u.What, "current %+.1f %%; what the wall gets: 5 %%: %+.1f %%, half: %+.1f %%, 95 %%: %+.1f %%",
			u.CurrentPercent, u.P5Percent, u.P50Percent, u.P95Percent)
	}
}

func (t *table) schedule(r *Result) {
	if r.Reached == nil {
		return
	}
	t.heading("time, by the charge of the aim (good to a factor of about three)")
	if r.Within != nil {
		t.row("in the time given", "%s h: %s of the reachable wall, the most that was found", figure(r.Within.Hours), percent(r.Within.Reached))
	}
	if r.Hours != nil {
		t.row("hours in all", "%s", figure(*r.Hours))
	} else {
		t.row("hours in all", "the aim's share is never reached by this layout")
	}
	t.row("turned black after", "%s", r.Reached.text())
	t.wanted(r)
}

func (r Reached) text() string {
	return fmt.Sprintf("1 day %s, 3 days %s, 10 days %s of the reachable wall", percent(r.One), percent(r.Three), percent(r.Ten))
}

func (t *table) search(r *Result) {
	s := r.Search
	if s == nil {
		return
	}
	t.heading("the search")
	t.row("tried", "%s, %d of them too near or too thick", plural(s.Tried, "layout"), s.Refused)
	for i, why := range s.Fewer {
		t.row([2]string{"rods at once", ""}[min(i, 1)], "%s", why)
	}
	t.bentTried("bent", s.Bent)
	t.bentTried("flexible", s.Flexible)
	t.row("reachable wall", "%s m2 of %s m2 wetted", figure(s.ReachableM2), figure(r.Tank.WettedAreaM2))
	if s.Naive != nil {
		t.judged(r, "plumb rod instead", s.Naive)
	}
	for i := range s.Others {
		t.judged(r, fmt.Sprintf("alternative %d", i+1), &s.Others[i].Judged)
		for _, rod := range s.Others[i].Rods {
			t.row("", "%s", rod)
		}
	}
}

// judged says how another layout does.
func (t *table) judged(r *Result, label string, j *Judged) {
	hours := "never gets to the aim's share"
	if j.Hours != nil {
		hours = figure(*j.Hours) + " h"
	}
	t.row(label, "%s, clearance %s%s", hours, mm1(j.ClearanceMM), r.nearerThanAllowed(j.ClearanceMM))
	t.row("", "%s", j.Reached.text())
	if j.InTime != nil {
		t.row("", "in the time given %s", percent(*j.InTime))
	}
	if j.ChargeAH != nil {
		t.row("", "charge in all %s A h", figure(*j.ChargeAH))
	}
}

func (t *table) checks(checks []Check) {
	if len(checks) == 0 {
		return
	}
	t.heading("limits of the job")
	for _, c := range checks {
		verdict := "met"
		if !c.Met {
			verdict = "NOT MET"
		}
		t.row(c.Name, "%s %s against %s %s: %s", figure(c.Value), c.Unit, figure(c.Limit), c.Unit, verdict)
	}
}

func (t *table) solver(s *Solver) {
	if s == nil {
		return
	}
	t.heading("how it was computed")
	t.row("lattice", "%s, %d unknowns, %s to a residual of %.0e", mm1(s.SpacingMM), s.Unknowns, plural(s.Iterations, "iteration"), s.Residual)
}

// paste prints the openings that were found as lines for the job file.
func (t *table) paste(s *Surface) {
	if s == nil {
		return
	}
	if s.LikelyUnit != "" {
		t.heading("unit that the capacity points to, to paste under tank:")
		fmt.Fprintf(t, "  unit: %s\n", s.LikelyUnit)
	}
	if len(s.OpeningsMM) == 0 {
		return
	}
	t.heading("round openings found, to paste under tank: (name them, take out what is none)")
	t.WriteString(job.OpeningsYAML(s.openings(), geometry.Sides{}))
}

// openings names the rings that were found, the first the filler.
func (s *Surface) openings() []job.Opening {
	var openings []job.Opening
	for i, r := range s.OpeningsMM {
		o := job.Opening{Name: "filler", Diameter: tenths(r.DiameterMM), Axis: direction(r.Axis)}
		if i > 0 {
			o.Name = fmt.Sprintf("opening %d", i+1)
		}
		o.Centre = geometry.V(tenths(r.CentreMM[0]), tenths(r.CentreMM[1]), tenths(r.CentreMM[2]))
		openings = append(openings, o)
	}
	return openings
}

// direction rounds a direction to five places: a tenth of a millimetre over a rod.
func direction(p Point) geometry.Vec {
	return geometry.V(placed(p[0], 5, ""), placed(p[1], 5, ""), placed(p[2], 5, ""))
}

func (t *table) lines(heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	t.heading(heading)
	for _, line := range lines {
		fmt.Fprintf(t, "  %s\n", line)
	}
}

// nearerThanAllowed remarks on a clearance that the job's limit forbids.
func (r *Result) nearerThanAllowed(mm float64) string {
	for _, c := range r.Checks {
		if c.Unit == "mm" && mm < c.Limit {
			return ", which the job does not allow"
		}
	}
	return ""
}
