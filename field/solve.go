package field

import (
	"context"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"evenwall/field/electrode"
	"evenwall/field/multigrid"
)

// Settings says how far a solve goes. The zero value means the defaults.
type Settings struct {
	Tolerance float64 // of the linear solve's residual; 0: 1e-8
	Rounds    int     // of Newton's method, at most; 0: 40
	Settled   float64 // change of the wall's current in a round, as a share of it, at which Newton stops; 0: 1e-6
}

func (s Settings) orDefaults() Settings {
	if s.Tolerance == 0 {
		s.Tolerance = 1e-8
	}
	if s.Rounds == 0 {
		s.Rounds = 40
	}
	if s.Settled == 0 {
		s.Settled = 1e-6
	}
	return s
}

// solver is one solve in progress.
type solver struct {
	*Problem
	Settings
	body     *body
	region   *region
	contacts []contact
	system   system
	levels   *multigrid.Hierarchy
	area     []float32
	drive    drive
	rods     []contactless // the bands' law, linearised
	x, q     []float64
	rhs      []float64
	extra    []float64 // what emfs in the wall put on the bands' equations, V
	p        *mat.SymDense
	work     *multigrid.Work
	out      multigrid.Outcome
	rounds   int
}

// contactless is a metal band's law about its current density.
type contactless struct {
	law        electrode.Law
	area       float64
	j          float64
	slope, emf float64
}

// Solve finds the potentials and currents of the problem. A solve that stopped early
// returns its solution, marked by its Status; only a problem that cannot be posed is an
// error.
func Solve(ctx context.Context, p *Problem, settings Settings) (*Solution, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	posed := *p
	posed.Liquid = p.aroundPlastic()
	s := &solver{Problem: &posed, Settings: settings.orDefaults(), drive: newDrive(p.Supply)}
	if err := s.prepare(); err != nil {
		return nil, err
	}
	if s.drive.volts <= 0 && s.Held == nil {
		return s.solution(0), nil
	}
	return s.run(ctx), nil
}

// prepare builds everything that does not change from round to round.
func (s *solver) prepare() error {
	var bands []band
	for i := range s.Anodes {
		bands = append(bands, bandsOf(&s.Anodes[i].Rod, i, s.mirrors())...)
	}
	if len(bands) == 0 && s.Held == nil {
		return ErrDry
	}
	h, kappa := s.Liquid.Lattice.H, s.Conductivity
	s.body, s.region = &body{}, &region{}
	if len(bands) > 0 {
		s.body = newBody(bands, s.mirrors())
		s.region = newRegion(s.Liquid, s.body, kappa)
	}
	s.contacts = newContacts(s.Problem, s.region)
	n := s.Liquid.Len()
	s.system = system{a: multigrid.NewOperator(s.Liquid.Numbering), link: kappa * h}
	s.system.Width = s.body.columns()
	for axis := range s.system.a.Ahead {
		for i, open := range s.Liquid.Open[axis] {
			s.system.a.Ahead[axis][i+1] = open * float32(kappa*h)
		}
	}
	s.area = make([]float32, n+2)
	for _, c := range s.contacts {
		s.area[c.link.Cell+1] += float32(c.link.Cover)
	}
	for b := range s.body.metal {
		law := orPrimary(s.Anodes[s.body.bands[b].rod].Law)
		s.rods = append(s.rods, contactless{law: law, area: s.body.areas[b]})
	}
	s.x, s.rhs, s.work = make([]float64, n+2), make([]float64, n+2), multigrid.NewWork(n)
	s.q, s.extra = make([]float64, s.body.columns()), make([]float64, s.body.columns())
	return nil
}

// run repeats rounds until the wall's current settles.
func (s *solver) run(ctx context.Context) *Solution {
	nonlinear := !linear(s.wallLaw())
	for _, a := range s.Anodes {
		nonlinear = nonlinear || !linear(orPrimary(a.Law))
	}
	s.begin()
	for s.rounds = 1; ; s.rounds++ {
		tolerance := s.Tolerance
		if nonlinear {
			tolerance = math.Max(tolerance, 1e-3*math.Pow(0.1, float64(s.rounds-1)))
		}
		across, ok := s.round(ctx, tolerance)
		if !ok {
			s.out.Status = multigrid.Broken
			return s.solution(across)
		}
		change := s.update()
		if s.drive.switched(sumOf(s.q[:s.body.metal]), across) {
			continue
		}
		if !nonlinear || (change < s.Settled && tolerance <= s.Tolerance) {
			return s.solution(across)
		}
		if s.rounds >= s.Rounds {
			s.out.Status = multigrid.OutOfIterations
		}
		if s.out.Status == multigrid.Interrupted || s.rounds >= s.Rounds {
			return s.solution(across)
		}
	}
}

// begin guesses the currents: all that the supply could drive through the liquid alone,
// spread evenly.
func (s *solver) begin() {
	total := 0.0
	for _, c := range s.contacts {
		total += c.area
	}
	metal := sumOf(s.body.areas[:s.body.metal])
	guess := s.drive.volts / (s.drive.series + 1/(s.Conductivity*math.Sqrt(total)))
	if s.drive.limit > 0 {
		guess = math.Min(guess, s.drive.limit)
	}
	for i := range s.contacts {
		s.contacts[i].j = guess / total
	}
	for i := range s.rods {
		s.rods[i].j = guess / metal
	}
}

// round linearises the laws, builds the system and solves it. It returns the volts over
// liquid and laws.
func (s *solver) round(ctx context.Context, tolerance float64) (across float64, ok bool) {
	law, kappa := s.wallLaw(), s.Conductivity
	clear(s.system.a.Wall)
	clear(s.rhs)
	clear(s.extra)
	for i := range s.contacts {
		c := &s.contacts[i]
		c.linearise(law)
		g := c.conductance(kappa)
		s.system.a.Wall[c.link.Cell+1] += float32(g)
		s.rhs[c.link.Cell+1] += g * c.emf
		if c.trace != nil {
			for b := range s.extra {
				s.extra[b] += (g*c.mixed(b) + c.trace.f[b]) * c.emf
			}
		}
	}
	if s.body.metal > 0 {
		s.resist(s.system.join(s.region, s.contacts, s.Liquid.Lattice.H, kappa))
		s.system.blur(s.region, s.Liquid, s.p)
		for _, cell := range s.region.cells { // what the change of unknowns does to the sources
			floats.AddScaled(s.extra, -s.rhs[cell+1], s.region.fat[cell])
		}
	}
	if s.levels == nil {
		s.levels = multigrid.NewHierarchy(s.system.a, s.area, kappa*s.Liquid.Lattice.H)
	} else {
		s.levels.Rebuild()
	}
	return s.answer(ctx, tolerance)
}

// resist sets P: the rods' own resistance less what the region holds, and their laws.
func (s *solver) resist(inner *mat.Dense) {
	n := s.body.columns()
	for i := range n {
		for k := range n {
			inner.Set(i, k, s.body.self.At(i, k)/s.Conductivity-inner.At(i, k))
		}
	}
	s.p = symmetric(inner)
	for i := range s.body.metal {
		r := &s.rods[i]
		drop, slope := r.law.Drop(r.j)
		r.slope, r.emf = slope, drop-slope*r.j
		s.p.SetSym(i, i, s.p.At(i, i)+slope/r.area)
		s.extra[i] += r.emf
	}
	s.hinder()
}

// hinder adds to the stretches' own answer what the metal's law costs across them.
func (s *solver) hinder() {
	slopes := make([]float64, len(s.body.stretches))
	for b, at := range s.body.home {
		slopes[at.stretch] += at.share * s.rods[b].slope
	}
	for i := range s.body.stretches {
		k := &s.body.stretches[i]
		more := k.alone() / s.Conductivity * (k.lossy(slopes[i], s.Conductivity) - 1)
		for a := range 2 {
			d := s.body.dipole(i, a)
			s.p.SetSym(d, d, s.p.At(d, d)+more)
		}
	}
}

// answer solves the round's system and sets x and q.
func (s *solver) answer(ctx context.Context, tolerance float64) (across float64, ok bool) {
	if s.body.metal == 0 {
		s.out = s.levels.Solve(ctx, s.system.a, s.x, s.rhs, s.work, multigrid.Settings{Tolerance: tolerance})
		return s.drive.volts, s.out.Status != multigrid.Broken
	}
	k, push, ok := s.drive.apply(s.p, s.body.metal)
	if !ok {
		return 0, false
	}
	s.system.K = k
	s.levels.SetBorder(&s.system.Border)
	kick := mat.NewVecDense(len(push), nil)
	kick.MulVec(k, mat.NewVecDense(len(push), s.extra))
	start := append([]float64(nil), push...)
	floats.Sub(start, kick.RawVector().Data)
	multigrid.Spread(&s.system.Border, s.rhs, start, 1)
	out := s.levels.Solve(ctx, &s.system, s.x, s.rhs, s.work, multigrid.Settings{Tolerance: tolerance})
	out.Iterations += s.out.Iterations
	s.out = out
	back := make([]float64, len(push))
	multigrid.Gather(&s.system.Border, back, s.x)
	floats.Add(back, s.extra)
	kick.MulVec(k, mat.NewVecDense(len(back), back))
	for i := range s.q {
		s.q[i] = push[i] - kick.AtVec(i)
	}
	return s.drive.across(s.p, s.q, back, s.body.metal), out.Status != multigrid.Broken
}

// update finds each contact's current from the potential that it sees, the law taken
// exactly, and returns the change as a share of the whole.
func (s *solver) update() float64 {
	law, kappa := s.wallLaw(), s.Conductivity
	changed, total := 0.0, 0.0
	for i := range s.contacts {
		c := &s.contacts[i]
		before := c.j
		c.settle(law, c.seen(s.region, s.x, s.q, kappa), kappa)
		changed += math.Abs(c.j-before) * c.area
		total += math.Abs(c.j) * c.area
	}
	for i := range s.rods {
		r := &s.rods[i]
		j := s.q[i] / r.area
		if j*r.j < 0 || (r.j != 0 && math.Abs(j) > 20*math.Abs(r.j)) {
			j = math.Copysign(math.Abs(r.j)/4, j)
		}
		changed += math.Abs(j-r.j) * r.area
		r.j = j
	}
	return changed / math.Max(total, 1e-300)
}
