package shape

import (
	"fmt"
	"math"

	"evenwall/geometry"
	"evenwall/geometry/carve"
)

// Fitted is a tank with necks, wells and sumps joined on and tunnels taken out. It
// stays in the frame of the bare tank.
type Fitted struct {
	Tank    Shape
	Necks   []Neck
	Tunnels []Tunnel
}

// Neck is a round pipe let into the tank from outside: a filler's neck, or, pointing
// down, a well or a sump. Inside the tank it ends at the wall.
type Neck struct {
	Centre   geometry.Vec // middle of its outer end, m
	Axis     geometry.Vec // outward, of any length
	Diameter float64      // inside, m
}

// Tunnel is a round hole right through the tank, such as one for a bolt or a frame
// tube: what is inside it is outside the tank.
type Tunnel struct {
	From, To geometry.Vec // ends of its axis, outside the tank, m
	Diameter float64      // m
}

// pipe returns the neck as space, from its outer end inward to where it is as a whole
// inside the tank; ok is false when it never is.
func (n Neck) pipe(tank Shape) (p pipe, ok bool) {
	p = n.bar(tank)
	in, far := p.along()
	b := tank.Bounds()
	step := math.Max(0.001, b.Size().Norm()/1000) // m
	near := math.Sqrt(b.Dist2(n.Centre))          // nothing of the tank is nearer
	for s := math.Max(step, near); s < far; s += step {
		if all(p.circle(s, 48), tank.Contains) && tank.Contains(n.Centre.AddScaled(in, s)) {
			// A little farther in, so that it ends clear of the wall.
			if on := s + step; all(p.circle(on, 48), tank.Contains) {
				s = on
			}
			p.to = n.Centre.AddScaled(in, s)
			return p, true
		}
	}
	return p, false
}

// bar is the neck run on inward to beyond the far side of the tank.
func (n Neck) bar(tank Shape) pipe {
	b := tank.Bounds()
	far := n.Centre.Dist(b.Centre()) + b.Size().Norm()
	return pipe{n.Centre, n.Centre.AddScaled(n.Axis.Unit(), -far), n.Diameter}
}

func all(points []geometry.Vec, ok func(geometry.Vec) bool) bool {
	for _, p := range points {
		if !ok(p) {
			return false
		}
	}
	return true
}

func (t Tunnel) pipe() pipe { return pipe{t.From, t.To, t.Diameter} }

// Validate implements Shape.
func (f Fitted) Validate() error {
	if f.Tank == nil {
		return fmt.Errorf("fittings have no tank: give its shape")
	}
	if err := f.Tank.Validate(); err != nil {
		return err
	}
	for i, n := range f.Necks {
		name := fmt.Sprintf("neck %d", i+1)
		if err := firstError(needSize(name+" diameter", n.Diameter), needPoint(name+" centre", n.Centre), needDirection(name+" axis", n.Axis)); err != nil {
			return err
		}
		if _, ok := n.pipe(f.Tank); !ok {
			return fmt.Errorf("%s of %s at %v never gets into the tank: check its centre and that its axis points outward", name, mm(n.Diameter), n.Centre)
		}
	}
	for i, t := range f.Tunnels {
		name := fmt.Sprintf("tunnel %d", i+1)
		if err := firstError(needSize(name+" diameter", t.Diameter), needPoint(name+" start", t.From), needPoint(name+" end", t.To)); err != nil {
			return err
		}
		if t.From.Dist(t.To) < t.Diameter || some(t.pipe().circle(0, 48), f.Contains) || some(t.pipe().circle(t.From.Dist(t.To), 48), f.Contains) {
			return fmt.Errorf("%s from %v to %v does not go right through: put both ends outside the tank", name, t.From, t.To)
		}
	}
	return nil
}

func some(points []geometry.Vec, ok func(geometry.Vec) bool) bool {
	return !all(points, func(p geometry.Vec) bool { return !ok(p) })
}

func needPoint(what string, p geometry.Vec) error {
	return firstError(needPlace(what+" x", p.X), needPlace(what+" y", p.Y), needPlace(what+" z", p.Z))
}

func needDirection(what string, d geometry.Vec) error {
	if !d.IsFinite() || d.Norm() == 0 {
		return fmt.Errorf("%s is [%g, %g, %g]: give a direction that is not zero", what, d.X, d.Y, d.Z)
	}
	return nil
}

// pipes returns the necks as space.
func (f Fitted) pipes() []pipe {
	var out []pipe
	for _, n := range f.Necks {
		if p, ok := n.pipe(f.Tank); ok {
			out = append(out, p)
		}
	}
	return out
}

// Bounds implements Shape.
func (f Fitted) Bounds() geometry.Box {
	b := f.Tank.Bounds()
	for _, p := range f.pipes() {
		b = b.Union(p.bounds())
	}
	return b
}

// Contains implements Shape.
func (f Fitted) Contains(p geometry.Vec) bool {
	for _, t := range f.Tunnels {
		if t.pipe().contains(p) {
			return false
		}
	}
	if f.Tank.Contains(p) {
		return true
	}
	for _, n := range f.Necks {
		// Where the neck ends takes long to find and matters to few points.
		if !n.bar(f.Tank).contains(p) {
			continue
		}
		if own, ok := n.pipe(f.Tank); ok && own.contains(p) {
			return true
		}
	}
	return false
}

// Volume implements Shape: only of a tank without fittings is there a formula.
func (f Fitted) Volume() (float64, bool) {
	if len(f.Necks)+len(f.Tunnels) > 0 {
		return 0, false
	}
	return f.Tank.Volume()
}

// Mesh implements Shape.
func (f Fitted) Mesh(edge float64) geometry.Mesh {
	m := f.Tank.Mesh(edge)
	for _, p := range f.pipes() {
		m = joined(m, p.mesh(math.Min(edge, p.diameter/8)))
	}
	for _, t := range f.Tunnels {
		bore := t.pipe().mesh(math.Min(edge, t.Diameter/8))
		if rest, err := carve.Difference(&m, &bore); err == nil {
			m = rest
		} else {
			m.Append(turnedOver(bore))
		}
	}
	return m
}

// joined returns the surface of both together. Should they touch in a way that cannot
// be carved, both stay whole, one in the other, which winding numbers still take as one
// space.
func joined(a, b geometry.Mesh) geometry.Mesh {
	if m, err := carve.Union(&a, &b); err == nil {
		return m
	}
	a.Append(b)
	return a
}

func turnedOver(m geometry.Mesh) geometry.Mesh {
	out := geometry.Mesh{Vertices: m.Vertices}
	for _, f := range m.Faces {
		out.Faces = append(out.Faces, [3]int32{f[1], f[0], f[2]})
	}
	return out
}
