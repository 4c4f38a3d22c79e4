package plan

import (
	"context"
	"fmt"
	"path/filepath"
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
		if err := c.ground.pose(ctx, c.basin.Tank, c.stations[0]); err != nil {
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
}

// newMatch lists what is compared and lays each tank.
func newMatch(ctx context.Context, jobs []*job.Job, naive bool, show Progress) (*match, error) {
	m := &match{title: jobs[0].Title}
	if err := sameAim(jobs); err != nil {
		return nil, err
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

// enter adds a job: each of its stations apart, or all of them in turn as one.
func (m *match) enter(ctx context.Context, j *job.Job, name string, apart bool) error {
	stations := j.Stations
	if len(stations) == 0 {
		stations = []job.Station{j.First()}
	}
	if apart {
		for _, s := range stations {
			if err := m.add(ctx, j, s.Name, s); err != nil {
				return err
			}
		}
		return nil
	}
	for _, s := range stations[1:] {
		if s.Attitude != stations[0].Attitude {
			return j.Blame(job.Fault{Key: "stations", Text: fmt.Sprintf("%s and %s are in different attitudes, and what the wall gets is not added up over attitudes: compare this job alone, station by station", stations[0].Name, s.Name)})
		}
	}
	return m.add(ctx, j, name, stations...)
}

// add adds a contender on the ground of an earlier one where it is the same.
func (m *match) add(ctx context.Context, j *job.Job, name string, stations ...job.Station) error {
	t, err := NewTank(ctx, j, stations[0].Attitude)
	if err != nil {
		return err
	}
	c := &contender{name: name, stations: stations}
	for _, g := range m.grounds {
		if g.sameAs(t) {
			c.ground = g
		}
	}
	if c.ground == nil {
		if c.ground, err = newGround(t); err != nil {
			return err
		}
		m.grounds = append(m.grounds, c.ground)
	}
	c.basin = c.ground.fine.as(t)
	m.contenders = append(m.contenders, c)
	return nil
}

// enterPlumb adds the rod that anyone would hang in the first contender's tank.
func (m *match) enterPlumb() error {
	first := m.contenders[0]
	s, err := first.ground.plumb(first.basin.Tank, first.stations[0])
	if err != nil {
		return err
	}
	m.contenders = append(m.contenders, &contender{name: s.Name, stations: []job.Station{s}, ground: first.ground, basin: first.basin})
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
