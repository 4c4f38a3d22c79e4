package plan

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
)

// mostCompared is how many layouts one picture and one table hold.
const mostCompared = 6

// Compare lays two to six jobs side by side, or the stations of one, or with naive what one
// hangs beside the rod that anyone would hang in its tank.
func Compare(ctx context.Context, jobs []*job.Job, naive bool, show Progress) (*report.Answer, error) {
	m, err := newMatch(ctx, jobs, naive, show)
	if err != nil {
		return nil, err
	}
	for i, c := range m.contenders {
		show("solving "+c.name, i, len(m.contenders))
		if err := c.solve(ctx); err != nil {
			return nil, err
		}
	}
	for i, c := range m.contenders {
		show("which wall can be reached", i, len(m.contenders))
		if err := c.ground.pose(ctx, c.tanks, c.stations[0]); err != nil {
			return nil, err
		}
	}
	for _, c := range m.contenders {
		if err := c.judge(); err != nil {
			return nil, err
		}
	}
	show("drawing", 0, 0)
	return m.answer()
}

// match is all that is compared.
type match struct {
	title      string
	contenders []*contender
	grounds    []*ground
	attitudes  []job.Attitude // that the tank of some job is turned to, and those of all others; nil: none is turned
}

// newMatch lists what is compared and lays each tank.
func newMatch(ctx context.Context, jobs []*job.Job, naive bool, show Progress) (*match, error) {
	m := &match{title: jobs[0].Title}
	if err := sameAim(jobs); err != nil {
		return nil, err
	}
	if len(jobs) > 1 || naive {
		m.attitudes = turnedTo(jobs)
	}
	for i, j := range jobs {
		show("reading the tank", i, len(jobs))
		if err := m.enter(ctx, j, nameOf(jobs, i), len(jobs) == 1 && !naive); err != nil {
			return nil, err
		}
	}
	if naive {
		if err := m.enterPlumb(); err != nil {
			return nil, err
		}
	}
	if n := len(m.contenders); n < 2 || n > mostCompared {
		return nil, jobs[0].Blame(job.Fault{Key: "stations", Text: fmt.Sprintf("%d to compare: compare takes two to %d jobs, a job with two to %d stations, or one job with --naive", n, mostCompared, mostCompared)})
	}
	return m, nil
}

// sameAim refuses jobs that are not held against the same aim.
func sameAim(jobs []*job.Job) error {
	for _, j := range jobs[1:] {
		if aimOf(j.Aim) != aimOf(jobs[0].Aim) || j.Aim.Weights != jobs[0].Aim.Weights {
			return j.Blame(job.Fault{Key: "aim", Text: fmt.Sprintf("not that of %s: hours and reach of the two cannot be held against each other: give both the same charge, least, most, share, within, prefer and weights", jobs[0].Path)})
		}
	}
	return nil
}

// nameOf returns what a job is called among others: its file's name, or the whole path where
// two files have the same.
func nameOf(jobs []*job.Job, i int) string {
	short := func(j *job.Job) string {
		return strings.TrimSuffix(filepath.Base(j.Path), filepath.Ext(j.Path))
	}
	for k := range jobs {
		if k != i && short(jobs[k]) == short(jobs[i]) {
			return jobs[i].Path
		}
	}
	return short(jobs[i])
}

// stationsOf returns a job's stations, or its anodes as one.
func stationsOf(j *job.Job) []job.Station {
	if len(j.Stations) == 0 {
		return []job.Station{j.First()}
	}
	return j.Stations
}

// turnedTo returns the attitudes of all jobs where the tank of one is turned between its stations: those
// that a search went through first, as it went through them. Nil where none is turned.
func turnedTo(jobs []*job.Job) []job.Attitude {
	var all []job.Attitude
	add := func(more ...job.Attitude) {
		for _, a := range more {
			if !slices.Contains(all, a) {
				all = append(all, a)
			}
		}
	}
	turned := false
	for _, j := range jobs {
		for _, s := range stationsOf(j) {
			if s.Attitude != stationsOf(j)[0].Attitude && !turned {
				turned = true
			}
		}
	}
	if !turned {
		return nil
	}
	for _, j := range jobs {
		add(j.Search.Attitudes...)
	}
	for _, j := range jobs {
		for _, s := range stationsOf(j) {
			add(s.Attitude)
		}
	}
	return all
}

// enter adds a job: each of its stations apart, or all of them in turn as one.
func (m *match) enter(ctx context.Context, j *job.Job, name string, apart bool) error {
	stations := stationsOf(j)
	if apart {
		for _, s := range stations {
			if err := m.add(ctx, j, s.Name, s); err != nil {
				return err
			}
		}
		return nil
	}
	return m.add(ctx, j, name, stations...)
}

// add adds a contender on the ground of an earlier one where it is the same.
func (m *match) add(ctx context.Context, j *job.Job, name string, stations ...job.Station) error {
	c := &contender{name: name, stations: stations}
	attitudes := m.attitudes
	if attitudes == nil {
		attitudes = []job.Attitude{stations[0].Attitude}
	}
	for _, a := range attitudes {
		t, err := propped(ctx, j, c.tanks, a)
		if err != nil && len(attitudes) > 1 {
			err = fmt.Errorf("%s: %w", report.AttitudeWords(degrees(a.Pitch), degrees(a.Roll)), err)
		}
		if err != nil {
			return err
		}
		c.tanks = append(c.tanks, t)
	}
	for _, g := range m.grounds {
		if g.sameAs(c.tanks) {
			c.ground = g
		}
	}
	if c.ground == nil {
		var err error
		if c.ground, err = newGround(c.tanks); err != nil {
			return err
		}
		m.grounds = append(m.grounds, c.ground)
	}
	k := c.ground.at(c.tanks, stations[0].Attitude)
	c.basin = c.ground.lies[k].fine.as(c.tanks[k])
	m.contenders = append(m.contenders, c)
	return nil
}

// enterPlumb adds the rod that anyone would hang in the first contender's tank.
func (m *match) enterPlumb() error {
	first := m.contenders[0]
	s, err := first.ground.plumb(first.ground.at(first.tanks, first.stations[0].Attitude), first.basin.Tank, first.stations[0])
	if err != nil {
		return err
	}
	m.contenders = append(m.contenders, &contender{name: s.Name, stations: []job.Station{s}, ground: first.ground, tanks: first.tanks, basin: first.basin})
	return nil
}

// answer gathers table, words and pictures.
func (m *match) answer() (*report.Answer, error) {
	first := m.contenders[0]
	r := first.basin.result("compare", first.stations[0].Anodes)
	r.Comparison = &report.Comparison{SameWall: len(m.grounds) == 1}
	for _, c := range m.contenders {
		r.Comparison.Rows = append(r.Comparison.Rows, c.compared())
	}
	r.Warnings = m.warnings()
	r.Solver = first.solved[0].solver()
	views := m.views()
	if len(m.grounds) == 1 {
		r.Comparison.Differ = m.differ()
	}
	pictures, err := m.pictures(views, r.Comparison.Differ, r.Warnings)
	if err != nil {
		return nil, err
	}
	table, err := r.Comparison.CSV()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", report.CompareFile, err)
	}
	return &report.Answer{Result: r, Pictures: pictures, Papers: []report.Paper{{Name: report.CompareFile, Data: table}}}, nil
}

// warnings gathers what each contender gives reason to warn about, each once.
func (m *match) warnings() []string {
	var out []string
	seen := map[string]bool{}
	add := func(text string) {
		if !seen[text] {
			seen[text] = true
			out = append(out, text)
		}
	}
	if len(m.grounds) > 1 {
		add("not all of these are the same tank in the same attitude at the same level: each is held against the wall that can be reached in its own, and hours and shares are not of one and the same wall")
	}
	for _, c := range m.contenders {
		if c.ground.unreached != "" {
			add("no single rod keeps the limits of the job, so that no wall counts as within reach: hours and shares are of all the wetted wall (" + c.ground.unreached + ")")
		}
		for _, w := range c.basin.Warnings {
			add(w)
		}
		for _, s := range c.solved {
			for _, w := range s.warnings() {
				add(c.name + ": " + w)
			}
		}
	}
	return out
}
