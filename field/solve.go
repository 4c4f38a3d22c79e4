package field

import (
	"context"
	"math"
	"sync"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"evenwall/field/electrode"
	"evenwall/field/multigrid"
	"evenwall/geometry/lattice"
)

// Settings says how far a solve goes. The zero value means the defaults.
type Settings struct {
	Tolerance float64 // of the linear solve's residual; 0: 1e-8
	Rounds    int     // of Newton's method, at most; 0: 40
	Settled   float64 // change of the wall's current in a round, as a share of it, at which the rounds end; 0: 1e-5

	// Guess is what each of the liquid's wall links carries, A/m², about: laws are then first taken
	// there. nil: the same everywhere.
	Guess []float64
}

func (s Settings) orDefaults() Settings {
	if s.Tolerance == 0 {
		s.Tolerance = 1e-8
	}
	if s.Rounds == 0 {
		s.Rounds = 40
	}
	if s.Settled == 0 {
		s.Settled = 1e-5
	}
	return s
}

// solver is one solve in progress.
type solver struct {
	*Problem
	Settings
	whole    *lattice.Liquid // as if there were no plastic
	body     *body
	region   *region
	contacts []contact
	bending  *bending
	sliding  []aside // of each contact
	system   system
	levels   func() *multigrid.Hierarchy // laid out meanwhile
	walls    []multigrid.Wall            // as the contacts are numbered
	drive    drive
	rods     []contactless // the bands' law, linearised
	x, q     []float64
	base     []float64 // right-hand side without the bending, A
	rhs      []float64
	push     []float64 // the columns at x = 0 and no emf
	start    []float64 // the columns at x = 0
	across   float64   // V over liquid and laws
	extra    []float64 // what emfs in the wall put on the bands' equations, V
	p        *mat.SymDense
	work     *multigrid.Work
	out      multigrid.Outcome
	rounds   int

	nonlinear, broken bool
}

// contactless is a metal band's law about its current density.
type contactless struct {
	gas        float64 // ohm m²; what the gas round the band costs
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
	posed.Liquid = p.medium().inLayers(p.aroundPlastic())
	s := &solver{Problem: &posed, whole: p.Liquid, Settings: settings.orDefaults(), drive: newDrive(p.Supply)}
	if err := s.prepare(); err != nil {
		return nil, err
	}
	if s.drive.volts <= 0 && s.Held == nil {
		return s.solution(), nil
	}
	return s.run(ctx), nil
}

// prepare builds everything that does not change from round to round.
func (s *solver) prepare() error {
	var bands []band
	for i := range s.Anodes {
		if s.Flat > 0 {
			bands = append(bands, s.flatBand(i)...)
			continue
		}
		bands = append(bands, bandsOf(&s.Anodes[i].Rod, i, s.mirrors())...)
	}
	if len(bands) == 0 && s.Held == nil {
		return ErrDry
	}
	h, kappa := s.Liquid.Lattice.H, s.Conductivity
	s.body, s.region = &body{}, &region{}
	if len(bands) > 0 {
		s.body = newBody(bands, s.mirrors())
		s.body.weigh(s.medium())
		s.region = newRegion(s.Liquid, s.medium().inLayers(s.whole), s.body, s.medium(), s.tubes())
	}
	s.contacts = newContacts(s.Problem, s.region)
	n := s.Liquid.Len()
	s.system = system{a: multigrid.NewOperator(s.Liquid.Numbering), link: kappa * h}
	for axis := range s.system.a.Ahead {
		for i, open := range s.Liquid.Open[axis] {
			s.system.a.Ahead[axis][i+1] = open * float32(kappa*h)
		}
	}
	s.walls = make([]multigrid.Wall, len(s.contacts))
	for i := range s.contacts {
		k := s.contacts[i].link
		s.walls[i] = multigrid.Wall{Cell: k.Cell + 1, Side: sideOf(k), Area: float32(k.Cover)}
	}
	s.levels = sync.OnceValue(func() *multigrid.Hierarchy {
		return multigrid.LayOut(s.system.a, s.walls, kappa*h)
	})
	go s.levels()
	s.bending = newBending(s.contacts, s.Liquid)
	s.sliding = s.slides()
	s.system.Width = s.body.columns()
	if s.body.metal > 0 {
		s.system.join(s.region, s.Liquid)
	}
	for b := range s.body.metal {
		law := orPrimary(s.Anodes[s.body.bands[b].rod].Law)
		s.rods = append(s.rods, contactless{law: law, area: s.body.areas[b]})
	}
	s.x, s.base, s.rhs, s.work = make([]float64, n+2), make([]float64, n+2), make([]float64, n+2), multigrid.NewWork(n)
	s.q, s.extra = make([]float64, s.body.columns()), make([]float64, s.body.columns())
	return nil
}

// sideOf returns the side of its cell that a link to the wall is on.
func sideOf(k *lattice.Link) multigrid.Side {
	side := multigrid.Side(2 * k.Axis)
	if k.Ahead {
		side++
	}
	return side
}

// run repeats rounds until the wall's current settles: each takes the laws' slopes and the
// bending next to the wall from the one before, and is solved more closely.
func (s *solver) run(ctx context.Context) *Solution {
	s.nonlinear = !linear(s.wallLaw())
	for _, a := range s.Anodes {
		s.nonlinear = s.nonlinear || !linear(orPrimary(a.Law)) || a.Gas != nil
	}
	s.begin()
	tolerance := firstTolerance
	if s.Guess != nil {
		tolerance *= tighten
	}
	if !s.nonlinear {
		tolerance = s.Tolerance
	}
	for s.rounds = 1; ; s.rounds++ {
		if s.rounds == 1 || s.nonlinear {
			s.assemble()
		}
		if !s.answer(ctx, math.Max(s.Tolerance, tolerance)) {
			s.out.Status = multigrid.Broken
			break
		}
		change := s.update()
		if s.drive.switched(sumOf(s.q[:s.body.metal]), s.across) {
			s.assemble()
			continue
		}
		if s.out.Status == multigrid.Interrupted || (tolerance <= s.Tolerance && (change < s.Settled || !s.nonlinear)) {
			break
		}
		if s.rounds >= s.Rounds {
			s.out.Status = multigrid.OutOfIterations
			break
		}
		tolerance *= tighten
	}
	return s.solution()
}

// How closely the linear system of each round is solved: an inexact Newton iteration.
const (
	firstTolerance = 1e-3
	tighten        = 0.03
)

// begin guesses the currents, where no guess is given: all that the supply could drive through
// the liquid alone, spread evenly.
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
		if s.Guess != nil && s.Guess[i] > 0 {
			s.contacts[i].j = s.Guess[i]
		}
	}
	for i := range s.rods {
		s.rods[i].j = guess / metal
	}
}

// assemble linearises the laws and builds the system.
func (s *solver) assemble() {
	law, kappa := s.wallLaw(), s.Conductivity
	clear(s.base)
	clear(s.extra)
	for i := range s.contacts {
		c := &s.contacts[i]
		c.linearise(law)
		g := c.conductance(kappa)
		s.walls[i].Conductance = float32(g)
		s.base[c.link.Cell+1] += g * c.emf
		if c.trace != nil {
			for b := range s.extra {
				s.extra[b] += (g*c.mixed(b) + c.trace.f[b]) * c.emf
			}
		}
	}
	s.bend()
	s.levels().Rebuild()
	if s.body.metal > 0 {
		s.resist(s.system.meet(s.region, s.contacts, kappa))
		for _, cell := range s.region.cells { // what the change of unknowns does to the sources
			floats.AddScaled(s.extra, -s.base[cell+1], s.region.fat[cell])
		}
		s.connect()
	}
}

// connect joins the rods to the supply.
func (s *solver) connect() {
	k, push, ok := s.drive.apply(s.p, s.body.metal)
	if s.broken = !ok; s.broken {
		return
	}
	s.push, s.system.K = push, k
	s.levels().SetBorder(&s.system.Border)
	kick := mat.NewVecDense(len(push), nil)
	kick.MulVec(k, mat.NewVecDense(len(push), s.extra))
	s.start = append(s.start[:0], push...)
	floats.Sub(s.start, kick.RawVector().Data)
	multigrid.Spread(&s.system.Border, s.base, s.start, 1)
}

// resist sets P: the rods' own resistance less what the region holds, and their laws.
func (s *solver) resist(inner *mat.Dense) {
	n := s.body.columns()
	for i := range n {
		for k := range n {
			inner.Set(i, k, inner.At(i, k)+s.body.self.At(i, k)/s.Conductivity)
		}
	}
	s.p = symmetric(inner)
	for i := range s.body.metal {
		r := &s.rods[i]
		drop, slope := r.law.Drop(r.j)
		r.slope, r.emf = slope+r.gas, drop-slope*r.j
		s.p.SetSym(i, i, s.p.At(i, i)+r.slope/r.area)
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

// Times implements multigrid.Matrix: the cells joined to the rods, with the bending of the
// potential next to the wall.
func (s *solver) Times(y, x []float64) {
	s.system.a.Times(y, x)
	if s.body.metal > 0 {
		back := multigrid.AddTo(&s.system.Border, y, x, 1)
		s.bending.addRods(y, back, 1) // the columns are start − back
	}
	const block = 4096
	b := s.bending
	spread((len(b.cells)+block-1)/block, func(part int) {
		for i := part * block; i < min(len(b.cells), (part+1)*block); i++ {
			y[b.cells[i]+1] -= b.source(i, x)
		}
	})
}

// answer solves the round's system and sets x and q; it is false when it cannot.
func (s *solver) answer(ctx context.Context, tolerance float64) bool {
	if s.broken {
		return false
	}
	copy(s.rhs, s.base)
	for i, cell := range s.bending.cells {
		s.rhs[cell+1] += s.bending.base[i]
	}
	s.bending.addRods(s.rhs, s.start, 1)
	out := s.levels().Solve(ctx, s, s.x, s.rhs, s.work, multigrid.Settings{Tolerance: tolerance})
	out.Iterations += s.out.Iterations
	s.out, s.across = out, s.drive.volts
	if s.body.metal > 0 {
		s.currents()
	}
	return out.Status != multigrid.Broken
}

// currents sets the columns and the volts over liquid and laws from the cells' potentials.
func (s *solver) currents() {
	back := make([]float64, len(s.push))
	multigrid.Gather(&s.system.Border, back, s.x)
	floats.Add(back, s.extra)
	kick := mat.NewVecDense(len(back), nil)
	kick.MulVec(s.system.K, mat.NewVecDense(len(back), back))
	floats.SubTo(s.q, s.push, kick.RawVector().Data)
	s.across = s.drive.across(s.p, s.q, back, s.body.metal)
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
	s.curtains()
	return changed / math.Max(total, 1e-300)
}
