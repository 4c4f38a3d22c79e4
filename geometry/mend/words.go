package mend

import (
	"fmt"

	"evenwall/geometry"
)

// mostHoles is how many holes are told one by one.
const mostHoles = 6

// Words says what was found and done, a line each. place gives the words for a point.
func (r *Report) Words(place func(geometry.Vec) string) []string {
	var out []string
	say := func(count int, format string, args ...any) {
		if count > 0 {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	say(r.Doubled, "%s lay on another: dropped", many(r.Doubled, "facet", "facets"))
	say(r.Tees, "%s stood on a side of another facet: the side was split there", many(r.Tees, "corner", "corners"))
	say(r.Cracks, "%s of facets stood apart, by up to %.2f mm at %s: joined", many(r.Cracks, "pair of sides", "pairs of sides"), 1000*r.Widest, place(r.WidestAt))
	say(r.Turned, "%s faced the wrong way: turned", many(r.Turned, "facet", "facets"))
	say(r.InsideOut, "%s faced inward as a whole: turned", many(r.InsideOut, "piece", "pieces"))
	say(r.Flaps, "%s where the surface branched or crossed itself: cut out", many(r.Flaps, "small facet", "small facets"))
	say(r.Strays, "%s, %.1f cm2 in all, the largest at %s: left out", many(r.Strays, "stray piece", "stray pieces"), 1e4*r.StrayArea, place(r.StrayAt))
	out = append(out, r.holeWords(place)...)
	say(r.Joined, "%s: joined into one", many(r.Joined, "body overlaps the largest", "bodies overlap the largest"))
	say(r.Bodies, "%s inside the tank: kept as steel", many(r.Bodies, "closed body", "closed bodies"))
	say(r.Apart, "%s apart from the largest: kept as a chamber of its own", many(r.Apart, "closed body", "closed bodies"))
	for _, s := range r.Spouts {
		out = append(out, fmt.Sprintf("tube %.0f mm across that goes %.0f mm into the tank from a hole at %s: kept as a sheet, both faces wall", 1000*s.Diameter, 1000*s.Length, place(s.Centre)))
	}
	sheets := r.Sheets - len(r.Spouts)
	say(sheets, "%s inside the tank: kept as baffle, both faces wall", many(sheets, "open sheet", "open sheets"))
	if r.Skins > 0 {
		out = append(out, fmt.Sprintf("the wall has two skins, %.1f mm apart: the inner one is used", 1000*r.Skins))
	}
	if r.TakenOff > 0 {
		out = append(out, fmt.Sprintf("outside skin: moved inward by %.2f mm of sheet", 1000*r.TakenOff))
	}
	return out
}

func (r *Report) holeWords(place func(geometry.Vec) string) []string {
	var out []string
	for _, h := range r.HolesOf(Filler) {
		out = append(out, fmt.Sprintf("hole %.0f mm across at %s: it is opening %s", 1000*h.Across, place(h.Centre), h.Opening))
	}
	for _, h := range r.HolesOf(Seam) {
		out = append(out, fmt.Sprintf("gap between two pieces, %.1f cm2 along a rim %.0f mm across at %s: closed as wall by a strip", 1e4*h.Area, 1000*h.Across, place(h.Centre)))
	}
	if slits := r.HolesOf(Slit); len(slits) > 0 {
		out = append(out, fmt.Sprintf("%s narrower than a crack, up to %.1f mm long: closed", many(len(slits), "slit", "slits"), 1000*slits[0].Across))
	}
	closed := r.HolesOf(Closed)
	for i, h := range closed {
		if i == mostHoles {
			rest, area := closed[i:], 0.0
			for _, h := range rest {
				area += h.Area
			}
			out = append(out, fmt.Sprintf("%s up to %.1f mm across, %.1f cm2 in all: closed as wall", many(len(rest), "more hole", "more holes"), 1000*rest[0].Across, 1e4*area))
			break
		}
		out = append(out, fmt.Sprintf("hole %.1f mm across, %.2f cm2, at %s: closed as wall", 1000*h.Across, 1e4*h.Area, place(h.Centre)))
	}
	return out
}

func many(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}
