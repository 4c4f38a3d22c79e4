package shape

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"evenwall/geometry"
	"evenwall/geometry/topology"
)

// drawStack draws a stack of two to four sections, with or without tunnels and a bend.
// Not all that are drawn are valid.
func drawStack(t *rapid.T) Stack {
	size := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	var s Stack
	s.Axis = rapid.SampledFrom([]Axis{Lying, Upright}).Draw(t, "axis")
	at := 0.0
	for range rapid.IntRange(2, 4).Draw(t, "sections") {
		sec := Section{At: at, Width: size("width", 0.05, 0.4), Height: size("height", 0.05, 0.3),
			Bottom: size("bottom", -0.05, 0.05), Side: size("side", -0.05, 0.05)}
		if rapid.Bool().Draw(t, "by roundness") {
			sec.Roundness = size("roundness", 0, 1)
		} else {
			sec.Corner = size("corner", 0.001, 0.02)
		}
		if rapid.Bool().Draw(t, "tunnel") {
			sec.Notch = Notch{size("notch width", 0.01, 0.1), size("notch height", 0.01, 0.1)}
		}
		s.Sections = append(s.Sections, sec)
		at += size("step", 0.01, 0.3)
	}
	if rapid.Bool().Draw(t, "bent") {
		s.Bends = []Bend{{At: size("bend at", -0.1, 0.3), Angle: size("bend angle", -1.5, 1.5), Radius: size("bend radius", 0.1, 0.6)}}
	}
	return s
}

// Any valid stack has a closed surface, and its formula agrees with it: a chord of
// 15 degrees, the coarsest, cuts 1.1 % off a circle.
func TestAnyStackIsClosedAndHoldsItsFormula(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStack(t)
		if s.Validate() != nil {
			t.Skip("not valid")
		}
		m := s.Mesh(0.01)
		if f := topology.FaultsOf(topology.Edges(&m)); f != (topology.Faults{}) {
			t.Fatalf("faults %+v", f)
		}
		if formula, ok := s.Volume(); ok && math.Abs(m.Volume()/formula-1) > 0.015 {
			t.Fatalf("mesh holds %.6g m³, formula %.6g", m.Volume(), formula)
		}
	})
}

// Any neck and tunnel through a rounded box is carved into one closed piece.
func TestAnyFittingIsCarved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
		f := Fitted{
			Tank: Box{Length: 0.4, Width: 0.25, Height: 0.2, Radius: rapid.SampledFrom([]float64{0, 0.02, 0.1}).Draw(t, "radius")},
			Necks: []Neck{{Centre: geometry.V(0.2*at("x"), 0.12*at("y"), 0.24), Axis: geometry.V(0.3*at("lean"), 0.3*at("tip"), 1),
				Diameter: 0.02 + 0.06*math.Abs(at("d"))}},
			Tunnels: []Tunnel{{From: geometry.V(0.15*at("from x"), -0.3, 0.1+0.05*at("from z")),
				To: geometry.V(0.15*at("to x"), 0.3, 0.1+0.05*at("to z")), Diameter: 0.03}},
		}
		if f.Validate() != nil {
			t.Skip("not valid")
		}
		m := f.Mesh(0.03)
		edges := topology.Edges(&m)
		if got := topology.FaultsOf(edges); got != (topology.Faults{}) {
			t.Fatalf("faults %+v", got)
		}
		if _, shells := topology.Shells(edges, len(m.Faces)); shells != 1 {
			t.Fatalf("%d pieces", shells)
		}
	})
}

// Whatever the numbers, a shape is refused or has a surface of bounded size.
func FuzzShapes(f *testing.F) {
	f.Add(0.4, 0.25, 0.2, 0.03, 0.5)
	f.Add(1e300, -1.0, 0.0, math.NaN(), math.Inf(1))
	f.Add(20.0, 20.0, 20.0, 1e-4, 0.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64) {
		far := Section{At: e, Width: b, Height: c, Corner: d, Notch: Notch{d, e}}
		for _, s := range []Shape{
			Box{a, b, c, d},
			Drum{Diameter: a, Length: b, Head: Head{Kind: Elliptical, Depth: c}},
			Drum{Diameter: a, Length: b, Head: Head{Kind: Dished, Crown: c, Knuckle: d}},
			Stack{Sections: []Section{{Width: a, Height: b, Roundness: e}, far}, Bends: []Bend{{a, e, c}}},
			Cone{Near: a, Far: b, Length: c},
			Wedge{a, b, c, d, e},
			Ring{a, b, c, e},
		} {
			if s.Validate() != nil {
				continue
			}
			m := s.Mesh(DefaultEdge)
			if n := len(m.Faces); n == 0 || n > 8_000_000 {
				t.Fatalf("%#v: %d facets", s, n)
			}
			for _, v := range m.Vertices {
				if !v.IsFinite() {
					t.Fatalf("%#v: corner %v", s, v)
				}
			}
			s.Contains(geometry.V(a, b, c))
		}
	})
}
