package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

// Comparison is several layouts held against each other.
type Comparison struct {
	SameWall bool        `json:"same_wall"` // one tank, attitude, level and set of wall that counts for all
	Rows     []Compared  `json:"layouts"`
	Differ   []Different `json:"differ_most,omitempty"` // the greatest first; only with SameWall
}

// Compared is one of the layouts. Nil hours say never.
type Compared struct {
	Name          string    `json:"name"`
	Stations      []Station `json:"stations,omitempty"` // when there are several in turn
	Hours         *float64  `json:"hours_total,omitempty"`
	HoursAsGiven  *float64  `json:"hours_charge_as_given,omitempty"`
	HoursRoot     *float64  `json:"hours_square_root_law,omitempty"`
	Reached       Reached   `json:"reached_fraction_after_days"`
	ReachFraction float64   `json:"reach_fraction"` // of the wetted wall, at some station at or above the aim's least
	NeverM2       float64   `json:"never_reached_m2"`
	WettedM2      float64   `json:"wetted_area_m2"`
	ReachableM2   float64   `json:"reachable_m2"`
	MeanAM2       float64   `json:"mean_a_m2"`
	P5AM2         float64   `json:"p5_a_m2"`
	P50AM2        float64   `json:"p50_a_m2"`
	P95AM2        float64   `json:"p95_a_m2"`
	Evenness      float64   `json:"p5_over_mean"`
	BelowHalf     float64   `json:"area_fraction_below_half_mean"`
	CurrentA      float64   `json:"current_a"` // by the stations' times
	VoltageV      float64   `json:"voltage_v"` // likewise
	MinMM         float64   `json:"min_mm"`    // clearances, the least of the stations
	RimMM         float64   `json:"rim_mm"`
	WorstMM       float64   `json:"worst_mm"`
	Nominal       bool      `json:"worst_is_nominal"` // the job states no search.tolerance
	LimitMM       float64   `json:"clearance_limit_mm"`
	Met           bool      `json:"clearance_met"`
}

// Different is a piece of wall where the layouts differ.
type Different struct {
	Side    string    `json:"side"`
	Place   string    `json:"place"` // from the middle of the filler
	PointMM Point     `json:"point_mm"`
	AreaM2  float64   `json:"area_m2"`
	Most    string    `json:"most_by"`
	Less    string    `json:"least_by"`
	MostAM2 float64   `json:"most_a_m2"`
	LessAM2 float64   `json:"least_a_m2"`
	AM2     []float64 `json:"a_m2"` // by each layout, in the order of the table
}

// Words says where it is and what each of the two brings there.
func (d *Different) Words() string {
	words := fmt.Sprintf("%s, %s from the middle of the filler, %s cm2: %s brings %s A/m2, %s %s A/m2",
		d.Side, d.Place, figure(1e4*d.AreaM2), d.Most, figure(d.MostAM2), d.Less, figure(d.LessAM2))
	if d.LessAM2 > 0 && d.MostAM2/d.LessAM2 < 100 {
		words += fmt.Sprintf(", %s times as much", figure(d.MostAM2/d.LessAM2))
	}
	return words
}

// field is a figure of the table: its name in CSV, its label and how a person reads it.
type field struct {
	column, label string
	value         func(*Compared) *float64
	text          func(*Compared) string
}

func number(get func(*Compared) float64) func(*Compared) *float64 {
	return func(c *Compared) *float64 { v := get(c); return &v }
}

func read(get func(*Compared) float64, as func(float64) string) func(*Compared) string {
	return func(c *Compared) string { return as(get(c)) }
}

// plainField is a field of one number that is always there.
func plainField(column, label string, get func(*Compared) float64, as func(float64) string) field {
	return field{column, label, number(get), read(get, as)}
}

func hoursField(column, label string, get func(*Compared) *float64) field {
	return field{column, label, get, func(c *Compared) string { return hoursWords(get(c)) }}
}

func hoursWords(h *float64) string {
	if h == nil {
		return "never"
	}
	return figure(*h) + " h"
}

func with(unit string) func(float64) string {
	return func(x float64) string { return figure(x) + " " + unit }
}

// comparedFields lists the table's rows, or the columns of compare.csv.
func comparedFields() []field {
	return []field{
		hoursField("hours_total", "hours in all", func(c *Compared) *float64 { return c.Hours }),
		hoursField("hours_charge_as_given", "  charge as given", func(c *Compared) *float64 { return c.HoursAsGiven }),
		hoursField("hours_square_root_law", "  square root law", func(c *Compared) *float64 { return c.HoursRoot }),
		plainField("reached_fraction_1_day", "black after 1 day", func(c *Compared) float64 { return c.Reached.One }, percent),
		plainField("reached_fraction_3_days", "  after 3 days", func(c *Compared) float64 { return c.Reached.Three }, percent),
		plainField("reached_fraction_10_days", "  after 10 days", func(c *Compared) float64 { return c.Reached.Ten }, percent),
		plainField("reach_fraction", "reached", func(c *Compared) float64 { return c.ReachFraction }, percent),
		plainField("never_reached_m2", "never reached", func(c *Compared) float64 { return c.NeverM2 }, func(m2 float64) string { return figure(1e4*m2) + " cm2" }),
		plainField("mean_a_m2", "mean", func(c *Compared) float64 { return c.MeanAM2 }, with("A/m2")),
		plainField("p5_a_m2", "5 % of it under", func(c *Compared) float64 { return c.P5AM2 }, with("A/m2")),
		plainField("p50_a_m2", "half of it under", func(c *Compared) float64 { return c.P50AM2 }, with("A/m2")),
		plainField("p95_a_m2", "95 % of it under", func(c *Compared) float64 { return c.P95AM2 }, with("A/m2")),
		plainField("p5_over_mean", "evenness", func(c *Compared) float64 { return c.Evenness }, figure),
		plainField("area_fraction_below_half_mean", "under half the mean", func(c *Compared) float64 { return c.BelowHalf }, percent),
		plainField("current_a", "current", func(c *Compared) float64 { return c.CurrentA }, with("A")),
		plainField("voltage_v", "rod to tank", func(c *Compared) float64 { return c.VoltageV }, with("V")),
		plainField("min_mm", "clearance, wetted", func(c *Compared) float64 { return c.MinMM }, mm1),
		plainField("rim_mm", "  rim and dry wall", func(c *Compared) float64 { return c.RimMM }, mm1),
		{"worst_mm", "  worst case", number(func(c *Compared) float64 { return c.WorstMM }), worstWords},
	}
}

func worstWords(c *Compared) string {
	words := mm1(c.WorstMM)
	if c.Nominal {
		words += " nominal"
	}
	if !c.Met {
		words += " NOT MET"
	}
	return words
}

// comparison prints the table, one column a layout.
func (t *table) comparison(r *Result) {
	c := r.Comparison
	if c == nil {
		return
	}
	t.heading("side by side (times good to a factor of about three)")
	var names, sets []string
	for i := range c.Rows {
		names = append(names, c.Rows[i].Name)
		sets = append(sets, figure(c.Rows[i].ReachableM2)+" m2")
	}
	t.columns("", names)
	t.columns("wall within reach", sets)
	for _, f := range comparedFields() {
		texts := make([]string, len(c.Rows))
		for i := range c.Rows {
			texts[i] = f.text(&c.Rows[i])
		}
		t.columns(f.label, texts)
	}
	t.comparedWords(c)
	t.differ(c)
}

// columns prints a row of several texts, each in a column as wide as the longest name.
func (t *table) columns(label string, texts []string) {
	const width = 15
	line := fmt.Sprintf("  %-*s", labelWidth, label)
	for _, text := range texts {
		line += fmt.Sprintf(" %-*s", width, text)
	}
	t.WriteString(strings.TrimRight(line, " ") + "\n")
}

// comparedWords says what the table's figures mean.
func (t *table) comparedWords(c *Comparison) {
	t.heading("what the figures mean")
	if c.SameWall {
		t.row("wall within reach", "one set for all: what some single rod within the limits brings the aim's least")
	} else {
		t.row("wall within reach", "NOT one set for all: each in its own tank, attitude and level")
	}
	t.row("hours", "until the aim's share of it has its charge, by charge with threshold and ceiling; by the two other laws below it")
	t.row("reached, never", "of all the wetted wall, by the aim's least, at any of its positions")
	t.row("evenness", "what 5 %% of the wall stays under, over the mean: 1 would be the same everywhere")
	for i := range c.Rows {
		if s := c.Rows[i].Stations; len(s) > 0 {
			t.row(c.Rows[i].Name, "%s in turn; current and wall by their times: %s", plural(len(s), "position"), stationWords(s))
		}
	}
}

func stationWords(stations []Station) string {
	words := make([]string, len(stations))
	for i, s := range stations {
		words[i] = fmt.Sprintf("%s %s h", s.Name, figure(s.Hours))
	}
	return strings.Join(words, ", ")
}

// differ says where the layouts differ most.
func (t *table) differ(c *Comparison) {
	if !c.SameWall {
		return
	}
	t.heading("where they differ most")
	if len(c.Differ) == 0 {
		t.row("", "nowhere: every patch of wall gets the same")
	}
	for i := range c.Differ {
		t.row(strconv.Itoa(i+1), "%s", c.Differ[i].Words())
	}
}

// CSV returns compare.csv, a row for each layout; an empty cell says never.
func (c *Comparison) CSV() ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	header := []string{"name", "reachable_m2", "wetted_area_m2", "clearance_limit_mm"}
	fields := comparedFields()
	for _, f := range fields {
		header = append(header, f.column)
	}
	_ = w.Write(header) // to memory
	for i := range c.Rows {
		r := &c.Rows[i]
		row := []string{r.Name, cell(&r.ReachableM2), cell(&r.WettedM2), cell(&r.LimitMM)}
		for _, f := range fields {
			row = append(row, cell(f.value(r)))
		}
		_ = w.Write(row)
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

func cell(x *float64) string {
	if x == nil {
		return ""
	}
	return strconv.FormatFloat(*x, 'g', digits, 64)
}
