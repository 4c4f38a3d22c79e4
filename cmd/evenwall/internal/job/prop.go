package job

import (
	"math"

	"evenwall/geometry"
)

// Prop is a block under one side of a tank that stands on the opposite one.
type Prop struct {
	Under  string  // rear, front, left or right
	Height float64 // of the block, m
	Across float64 // from the block to where the tank stands, along the tank, m
}

// undersides are the words for where a block may go.
var undersides = []option[string]{{"rear", "rear"}, {"front", "front"}, {"left", "left"}, {"right", "right"}}

// attitudeOf returns how blocks prop a tank: one along it and one across it, at most. The
// edge over a block is raised by its height.
func attitudeOf(props []Prop, sides geometry.Sides) Attitude {
	var up geometry.Vec // the plumb line in the tank's own frame, as far as blocks lean it
	for _, p := range props {
		d, _ := sides.Find(p.Under)
		up = up.AddScaled(d, p.Height/p.Across)
	}
	roll := math.Asin(up.Y)
	pitch := (0 - up.X) / math.Cos(roll) // what pitch raises is foreshortened by the roll that follows it
	return Attitude{Pitch: math.Asin(math.Max(-1, math.Min(1, pitch))), Roll: roll}
}

// Props returns the blocks that give an attitude to a tank with the given box, at its very
// ends: the inverse of what a job's prop means.
func (a Attitude) Props(b geometry.Box, sides geometry.Sides) []Prop {
	const least = 0.0005 // m
	var out []Prop
	up := a.Up()
	add := func(side string, across float64) {
		d, _ := sides.Find(side)
		if h := up.Dot(d) * across; h >= least {
			out = append(out, Prop{side, h, across})
		}
	}
	add("rear", sides.Length(b))
	add("front", sides.Length(b))
	add("left", sides.Width(b))
	add("right", sides.Width(b))
	return out
}

// readPropped reads attitude or prop of a group, otherwise when neither is given.
func readPropped(f *fields, otherwise Attitude) Attitude {
	attitude, prop := f.get("attitude"), f.get("prop")
	if attitude.given() && prop.given() {
		prop.faultf("stands beside attitude: keep one of the two")
	}
	if prop.given() {
		return readProps(prop)
	}
	return readAttitude(attitude, otherwise)
}

// readProps reads one block, or a list of one along and one across.
func readProps(v value) Attitude {
	entries := []value{v}
	if !v.isMapping() {
		entries = v.some("blocks, as {under: rear, height: 60}")
	}
	var props []Prop
	along := map[bool]bool{}
	for _, entry := range entries {
		p, ok := readProp(entry)
		if !ok {
			return Attitude{}
		}
		lengthwise := p.Under == "rear" || p.Under == "front"
		if along[lengthwise] {
			entry.faultf("is a second block the same way: give one under rear or front and one under left or right")
			return Attitude{}
		}
		along[lengthwise] = true
		props = append(props, p)
	}
	return attitudeOf(props, v.r.sides)
}

func readProp(v value) (Prop, bool) {
	f, found := v.fields(), len(v.r.faults)
	p := Prop{
		Height: f.need("height", "the height of the block, such as 60").quantity(length, notNegative),
		Across: f.get("across").quantity(length, positive),
	}
	f.need("under", "the side that is raised: rear, front, left or right")
	p.Under = choice(f.get("under"), undersides)
	f.finish()
	if len(v.r.faults) > found {
		return p, false
	}
	if p.Across == 0 {
		b, ok := v.box()
		if !ok {
			return p, false
		}
		p.Across = v.r.sides.Length(b)
		if p.Under == "left" || p.Under == "right" {
			p.Across = v.r.sides.Width(b)
		}
	}
	if p.Height > 0.99*p.Across {
		v.faultf("a block of %s does not go under a tank that stands %s away: give a lower one, or across, the distance between the two", mm(p.Height), mm(p.Across))
		return p, false
	}
	return p, true
}
