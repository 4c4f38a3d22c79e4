package job

import (
	"fmt"
	"strings"

	"evenwall/geometry"
)

// Bend is where a rod is bent once: the corner where the axes of its two legs would meet, and
// the radius of its own axis round it. The zero value is none.
type Bend struct {
	Corner geometry.Vec // m
	Radius float64      // m
}

// defaultSpacer is how thick a spacer is along the rod when the job does not say, m.
const defaultSpacer = 0.003

// readPath reads the way of an anode from tip to top: straight, bent once, or through the
// points of its course.
func readPath(f *fields, a *Anode, tip, top geometry.Vec) []geometry.Vec {
	straight := geometry.Straight(tip, top)
	bend, course, slack := f.get("bend"), f.get("course"), f.get("least_bend")
	a.Slack = slack.quantity(length, positive)
	switch {
	case !f.get("tip").given() || !f.get("top").given():
		return straight
	case tip == top:
		f.get("tip").faultf("is the same point as top: the rod has no length")
	case bend.given() && course.given():
		course.faultf("stands beside bend: a stiff rod has a bend, a flexible anode a course")
	case bend.given():
		return readBend(bend, a, straight)
	case course.given() && !slack.given():
		course.faultf("belongs to a flexible anode: give least_bend, the least radius it takes, too")
	case course.given():
		return readCourse(course, straight)
	case slack.given():
		slack.faultf("belongs to a flexible anode: give its course too, the points between tip and top")
	}
	return straight
}

func readBend(v value, a *Anode, straight []geometry.Vec) []geometry.Vec {
	f, found := v.fields(), len(v.r.faults)
	a.Bend = Bend{
		Corner: f.need("corner", "the point [x, y, z] where the axes of the legs meet").point(),
		Radius: f.need("radius", "the radius of the bend, such as 30").quantity(length, positive),
	}
	f.finish()
	if len(v.r.faults) > found {
		return straight
	}
	path, err := geometry.Bent(straight[0], a.Bend.Corner, straight[1], a.Bend.Radius)
	if err != nil {
		v.faultf("%v", err)
		return straight
	}
	return path
}

func readCourse(v value, straight []geometry.Vec) []geometry.Vec {
	path := straight[:1:1]
	for _, entry := range v.some("points between tip and top") {
		path = append(path, entry.point())
	}
	path = append(path, straight[1])
	for i := 1; i < len(path); i++ {
		if path[i] == path[i-1] {
			v.faultf("goes through %v twice on end: give each point once", path[i])
			return straight
		}
	}
	return path
}

// readAround reads what sits on a rod beside its sleeve.
func readAround(f *fields, a *Anode) {
	for _, entry := range f.get("spacers").list("spacers") {
		s := entry.fields()
		spacer := geometry.Spacer{
			At:     s.need("at", "its place in mm from the tip").quantity(length, notNegative),
			Radius: s.need("diameter", "its diameter, such as 40").quantity(length, positive) / 2,
			Thick:  s.get("thick").quantityOr(defaultSpacer, length, positive),
		}
		if w := max(a.Radius, a.Sleeve); spacer.Radius > 0 && spacer.Radius <= w {
			s.get("diameter").faultf("%s is no wider than the rod with its sleeve, %s", mm(2*spacer.Radius), mm(2*w))
		}
		if spacer.At > a.Length() {
			s.get("at").faultf("%s is beyond the top of a rod of %s", mm(spacer.At), mm(a.Length()))
		}
		s.finish()
		a.Spacers = append(a.Spacers, spacer)
	}
	a.Guard = readGuard(f.get("guard"), a)
	a.Collar = readCollar(f.get("collar"), a)
}

func readGuard(v value, a *Anode) geometry.Guard {
	if !v.given() {
		return geometry.Guard{}
	}
	f := v.fields()
	g := geometry.Guard{
		Outside: f.need("outside", "its outside diameter").quantity(length, positive) / 2,
		Inside:  f.need("inside", "its inside diameter").quantity(length, positive) / 2,
		Open:    f.need("open", "the share of its wall that is hole, such as 30 %").quantity(share, positive),
		Hole:    f.need("hole", "the diameter of a hole, such as 6").quantity(length, positive),
	}
	f.finish()
	switch widest := max(a.Radius, a.Sleeve); {
	case g.Outside == 0 || g.Inside == 0:
	case g.Outside <= g.Inside:
		v.faultf("is %s outside and %s inside: the outside is the wider", mm(2*g.Outside), mm(2*g.Inside))
	case g.Inside < widest:
		v.faultf("is %s wide inside, the rod with its sleeve is %s: give a wider tube or a thinner sleeve", mm(2*g.Inside), mm(2*widest))
	case g.Open >= 1:
		f.get("open").faultf("%s of the wall leaves no tube: give less than 100 %%", share.format(g.Open))
	}
	return g
}

func readCollar(v value, a *Anode) geometry.Collar {
	if !v.given() {
		return geometry.Collar{}
	}
	f := v.fields()
	c := geometry.Collar{
		At:     f.need("at", "where its underside is, in mm from the tip").quantity(length, positive),
		Radius: f.need("diameter", "its diameter, such as 80").quantity(length, positive) / 2,
	}
	f.finish()
	if c.At > a.Length() {
		f.get("at").faultf("%s is beyond the top of a rod of %s", mm(c.At), mm(a.Length()))
	}
	return c
}

// fittings writes what a rod has beyond metal, sleeve and law.
func (p *page) fittings(a *Anode, row func(string, ...any)) {
	if a.Bend != (Bend{}) {
		row("bend: {corner: %s, radius: %s}", point(a.Bend.Corner), length.format(a.Bend.Radius))
	}
	if a.Slack > 0 {
		points := make([]string, 0, len(a.Path))
		for _, p := range a.Path[1 : len(a.Path)-1] {
			points = append(points, point(p))
		}
		row("course: [%s]", strings.Join(points, ", "))
		row("least_bend: %s", length.format(a.Slack))
	}
	if len(a.Spacers) > 0 {
		discs := make([]string, len(a.Spacers))
		for i, s := range a.Spacers {
			discs[i] = fmt.Sprintf("{at: %s, diameter: %s, thick: %s}", length.format(s.At), length.format(2*s.Radius), length.format(s.Thick))
		}
		row("spacers: [%s]", strings.Join(discs, ", "))
	}
	if g := a.Guard; g.Outside > 0 {
		row("guard: {outside: %s, inside: %s, open: %s, hole: %s}", length.format(2*g.Outside), length.format(2*g.Inside), share.format(g.Open), length.format(g.Hole))
	}
	if c := a.Collar; c.Radius > 0 {
		row("collar: {at: %s, diameter: %s}", length.format(c.At), length.format(2*c.Radius))
	}
}
