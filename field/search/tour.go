package search

import (
	"context"
	"errors"
	"slices"
	"sort"

	"evenwall/field/station"
)

// TurnPrice is what a further attitude must save besides the price of the position, s: to drain, turn,
// prop and fill anew, and let it settle. Common practice, no source.
const TurnPrice = 3 * 3600

// Tour is positions in turn over several attitudes, those in one attitude one after the other.
type Tour struct {
	Results  []*Result // of the search in each attitude alone; nil where nothing fits
	Stations []Candidate
	Attitude []int // of each station, as the problems were given
	Schedule *station.Schedule
	Price    float64 // of its moves, s
}

// SearchTour looks for positions in turn of a tank that may be turned between them. Each
// problem is the tank in one attitude; all judge the same patches, where what is dry gets nothing, and Counts is
// the wall that rods in any of them reach. The schedule is never longer than what Search finds for the
// first attitude that anything fits in. It returns *NoWayError when nothing fits in any.
func SearchTour(ctx context.Context, problems []*Problem, settings Settings) (*Tour, error) {
	t := &tour{stations: max(1, settings.Stations)}
	out := &Tour{}
	var none error
	for k, p := range problems {
		r, found, err := t.alone(ctx, p, settings)
		var stuck *NoWayError
		if errors.As(err, &stuck) {
			none, r = err, nil
		} else if err != nil {
			return nil, err
		}
		t.runs, out.Results = append(t.runs, r), append(out.Results, found)
		if r != nil {
			t.offer(sitting(r.chosen, k), r.schedule)
		}
	}
	if t.best.seats == nil {
		return nil, none
	}
	if t.stations > 1 && len(problems) > 1 {
		if err := t.mix(); err != nil {
			return nil, err
		}
	}
	for _, s := range t.best.seats {
		out.Stations, out.Attitude = append(out.Stations, s.candidate()), append(out.Attitude, s.attitude)
	}
	out.Schedule, out.Price = t.best.schedule, t.best.price(t.any().Price)
	return out, nil
}

// alone searches in one attitude: in the first that anything fits in for all positions, in each
// further one for the best single one.
func (t *tour) alone(ctx context.Context, p *Problem, settings Settings) (*run, *Result, error) {
	r, err := newRun(ctx, p, settings)
	if err != nil {
		return nil, nil, err
	}
	if t.best.seats != nil {
		r.Stations = 1
	}
	found, err := r.search()
	return r, found, err
}

// seat is a position with its attitude.
type seat struct {
	*record
	attitude int
}

func sitting(records []*record, attitude int) []seat {
	var out []seat
	for _, rec := range records {
		out = append(out, seat{rec, attitude})
	}
	return out
}

// plan is seats with their times.
type plan struct {
	seats    []seat
	schedule *station.Schedule
}

// price is what its moves cost, s, each of them so much and each turn of the tank more.
func (p *plan) price(move float64) float64 {
	return float64(len(p.seats)-1)*move + float64(p.attitudes()-1)*TurnPrice
}

// attitudes is how many the plan goes through.
func (p *plan) attitudes() int {
	seen := map[int]bool{}
	for _, s := range p.seats {
		seen[s.attitude] = true
	}
	return len(seen)
}

// tour is a search over attitudes at work.
type tour struct {
	runs     []*run // nil: nothing fits there
	best     plan
	stations int // at most
}

// any returns a run of the tour: aim, patches and price are the same for all.
func (t *tour) any() *run {
	return t.runs[slices.IndexFunc(t.runs, func(r *run) bool { return r != nil })]
}

// offer takes seats for the best where they save what their moves cost more.
func (t *tour) offer(seats []seat, schedule *station.Schedule) {
	p := plan{seats, schedule}
	if t.best.seats != nil {
		r := t.any()
		more := max(0, p.price(r.Price)-t.best.price(r.Price))
		if !Worth(r.Aim, schedule, t.best.schedule, more) || r.costlier(&p, &t.best) {
			return
		}
	}
	t.best = p
}

// costlier reports whether a plan takes more charge than another where the least is wanted.
func (r *run) costlier(p, than *plan) bool {
	return r.Aim.LeastCharge && than.schedule.Finish.Ever && p.schedule.Finish.Ever &&
		r.charge(records(p.seats), p.schedule) > r.charge(records(than.seats), than.schedule)
}

// mix begins with the best single position of all attitudes, adds positions in whichever attitude
// helps most as long as they save their price, and offers what comes of it.
func (t *tour) mix() error {
	r := t.any()
	at := plan{}
	for k, o := range t.runs {
		if o != nil && (at.seats == nil || o.chosen[0].verdict.Better(at.seats[0].verdict)) {
			at.seats = []seat{{o.chosen[0], k}}
		}
	}
	var err error
	if at.schedule, err = r.timed(records(at.seats)); err != nil {
		return err
	}
	for len(at.seats) < t.stations {
		next, err := t.wider(&at)
		if err != nil {
			return err
		}
		if next.seats == nil {
			break
		}
		at = next
	}
	at.group()
	if at.schedule, err = r.timed(records(at.seats)); err != nil {
		return err
	}
	t.offer(at.seats, at.schedule)
	return nil
}

// wider returns a plan with the further position that saves the most of what it costs; no seats
// where none saves its price.
func (t *tour) wider(p *plan) (plan, error) {
	best := plan{}
	for k, r := range t.runs {
		if r == nil {
			continue
		}
		next, err := t.with(p, k)
		if err != nil {
			return plan{}, err
		}
		than := p
		if best.seats != nil {
			than = &best
		}
		if Worth(r.Aim, next.schedule, than.schedule, max(0, next.price(r.Price)-than.price(r.Price))) {
			best = next
		}
	}
	return best, nil
}

// with returns a plan with one position more in an attitude, all of them looked for again.
func (t *tour) with(p *plan, attitude int) (plan, error) {
	r := t.runs[attitude]
	next, err := r.besides(records(p.seats), p.schedule.Seconds, r.Refine)
	if err != nil {
		return plan{}, err
	}
	wide := plan{seats: append(slices.Clone(p.seats), seat{next, attitude})}
	all := records(wide.seats)
	if wide.schedule, err = r.timed(all); err != nil {
		return plan{}, err
	}
	for round := range mostRounds {
		before := wide.schedule
		for i, s := range wide.seats {
			if all, wide.schedule, err = t.runs[s.attitude].again(all, wide.schedule, i, round == 0); err != nil {
				return plan{}, err
			}
		}
		if wide.schedule == before && round > 0 {
			break
		}
	}
	for i := range wide.seats {
		wide.seats[i].record = all[i]
	}
	return wide, nil
}

// group puts seats of one attitude one after the other, in the order in which attitudes came in.
func (p *plan) group() {
	first := map[int]int{}
	for i, s := range p.seats {
		if _, ok := first[s.attitude]; !ok {
			first[s.attitude] = i
		}
	}
	sort.SliceStable(p.seats, func(i, k int) bool { return first[p.seats[i].attitude] < first[p.seats[k].attitude] })
}

func records(seats []seat) []*record {
	out := make([]*record, len(seats))
	for i, s := range seats {
		out[i] = s.record
	}
	return out
}
