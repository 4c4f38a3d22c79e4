package render

import (
	"slices"

	"evenwall/geometry"
)

// panelPlan is one of the flat pictures that together show all of the wall.
type panelPlan struct {
	view  view
	title string
	faces []int32
	span  extent // m
}

// arrangement is the set of panels and how much of the wall they show.
type arrangement struct {
	panels []panelPlan
	sides  int     // how many of them, the first ones, are whole sides
	shown  float64 // share of the surface's area in sight in at least one panel
}

// arranger finds out which faces each view shows and which are hidden there.
type arranger struct {
	surface *Surface
	normal  []geometry.Vec
	area    []float64
	seen    []float64 // best visible share of each face so far, 0 to 1
	first   []int32   // the faces at each corner, as facesAround lists them
	around  []int32
}

const (
	steepest = 0.3  // least cosine between a face's normal and the view for it to count as seen
	enough   = 0.9  // share of a face in sight for it to count as seen
	crumb    = 1e-3 // share of the whole area below which hidden faces get no panel of their own
	depths   = 4    // panels, at most, of things that stand one before the other
	fineness = 600  // pixels along the longest side for finding out what is in sight
)

// arrange returns the six sides seen from inside, followed by further panels for what
// stands in front of them: tunnels, folds, sheets. Faces go to the view that their normal
// points along most.
func arrange(s *Surface, sides geometry.Sides) arrangement {
	a := newArranger(s)
	views := sixViews(sides)
	var out arrangement
	var open [6][]float64
	for k, v := range views {
		faces := a.facing(v)
		if len(faces) == 0 {
			continue
		}
		out.panels = append(out.panels, panelPlan{v, v.title, faces, spanned(&s.Mesh, faces, v)})
		open[k] = a.look(v, faces)
	}
	out.sides = len(out.panels)
	for k, v := range views {
		out.panels = append(out.panels, a.hidden(v, k, views, open[k])...)
	}
	out.shown = a.shown()
	return out
}

func newArranger(s *Surface) *arranger {
	n := len(s.Mesh.Faces)
	a := &arranger{surface: s, normal: make([]geometry.Vec, n), area: make([]float64, n), seen: make([]float64, n)}
	for i := range n {
		v := s.Mesh.Triangle(i).AreaVector()
		a.normal[i], a.area[i] = v.Unit(), v.Norm()
	}
	a.first, a.around = facesAround(&s.Mesh)
	return a
}

// facing lists the faces of the shell whose inner side is turned to the viewer.
func (a *arranger) facing(v view) []int32 {
	const edgeOn = 0.01
	var faces []int32
	for i, n := range a.normal {
		if !a.surface.sheet(i) && n.Dot(v.toward) > edgeOn {
			faces = append(faces, int32(i))
		}
	}
	return faces
}

// look draws the faces, raises the seen share of those in sight, and returns the share of
// each face that this view shows.
func (a *arranger) look(v view, faces []int32) []float64 {
	shares := make([]float64, len(a.seen))
	span := spanned(&a.surface.Mesh, faces, v)
	longest := max(span.width(), span.height())
	if longest == 0 {
		return shares
	}
	l := &plate{right: v.right, up: v.up, toward: v.toward, origin: span.corner(v), scale: fineness / longest}
	b := newBuffer(int(span.width()*l.scale)+1, int(span.height()*l.scale)+1)
	b.covered = make([]int32, len(a.seen))
	b.paint(&a.surface.Mesh, faces, l, nil)
	visible := make([]int32, len(a.seen))
	for _, f := range b.face {
		if f != nothing {
			visible[f]++
		}
	}
	for _, f := range faces {
		shares[f] = a.inSight(b, l, f, visible[f])
		if a.normal[f].Dot(v.toward) >= steepest {
			a.seen[f] = max(a.seen[f], shares[f])
		}
	}
	return shares
}

// inSight returns the share of face f that the buffer shows: by counting pixels, or for
// a face of hardly any pixels by the depth at its middle.
func (a *arranger) inSight(b *buffer, l *plate, f, visible int32) float64 {
	const few, slack = 4, 2 * 1 / steepest // pixels; depth of two pixels on the steepest face
	if b.covered[f] >= few {
		return float64(visible) / float64(b.covered[f])
	}
	middle := a.surface.Mesh.Triangle(int(f)).Centroid()
	p := l.at(middle)
	i := min(max(int(p.y), 0), b.h-1)*b.w + min(max(int(p.x), 0), b.w-1)
	if b.face[i] == nothing || float64(b.depth[i])-l.depth(middle) < slack/l.scale {
		return 1
	}
	return 0
}

// hidden returns the panels for the faces that belong to view k and are not in sight so
// far, farthest first. Each is drawn with what it is joined to and the view does not show
// either, so that a tunnel's side comes whole. open is what the view shows already.
func (a *arranger) hidden(v view, k int, views [6]view, open []float64) []panelPlan {
	var out []panelPlan
	for range depths {
		faces, area, sheet := a.pieces(func(f int32) bool { return a.seen[f] < enough && belongs(a.normal[f], views) == k })
		if area <= crumb*a.total() {
			break
		}
		title := "Inner wall, looking " + v.looking
		if sheet > area/2 {
			title = "Baffle, looking " + v.looking
		}
		faces = a.joined(faces, v, open)
		out = append(out, panelPlan{v, title, faces, spanned(&a.surface.Mesh, faces, v)})
		for f, share := range a.look(v, faces) {
			open[f] = max(open[f], share)
		}
	}
	return out
}

// pieces lists the faces that pass the test and hang together with enough others that do to be
// no crumb, with their area and that of them which is sheet, m².
func (a *arranger) pieces(test func(f int32) bool) (faces []int32, area, sheet float64) {
	least := crumb * a.total() / 2
	taken := make([]bool, len(a.seen))
	for i := range a.seen {
		if taken[i] || !test(int32(i)) {
			continue
		}
		taken[i] = true
		piece, whole, thin := []int32{int32(i)}, 0.0, 0.0
		for at := 0; at < len(piece); at++ {
			f := piece[at]
			whole += a.area[f]
			if a.surface.sheet(int(f)) {
				thin += a.area[f]
			}
			a.touching(f, func(g int32) {
				if !taken[g] && test(g) {
					taken[g] = true
					piece = append(piece, g)
				}
			})
		}
		if whole > least {
			faces, area, sheet = append(faces, piece...), area+whole, sheet+thin
		}
	}
	return faces, area, sheet
}

// touching calls visit with every face that has a corner in common with f, f too.
func (a *arranger) touching(f int32, visit func(g int32)) {
	for _, c := range a.surface.Mesh.Faces[f] {
		for _, g := range a.around[a.first[c]:a.first[c+1]] {
			visit(g)
		}
	}
}

// joined adds to the faces those that touch them, face the viewer, and are not open to
// the view, and so on from each.
func (a *arranger) joined(faces []int32, v view, open []float64) []int32 {
	const facing = 0.1
	taken := make([]bool, len(a.seen))
	for _, f := range faces {
		taken[f] = true
	}
	for at := 0; at < len(faces); at++ {
		a.touching(faces[at], func(g int32) {
			if !taken[g] && open[g] < enough && a.normal[g].Dot(v.toward) > facing {
				taken[g] = true
				faces = append(faces, g)
			}
		})
	}
	slices.Sort(faces)
	return faces
}

// belongs returns the view that a normal points along most, the first of equals.
func belongs(normal geometry.Vec, views [6]view) int {
	best, most := 0, -2.0
	for k, v := range views {
		if c := normal.Dot(v.toward); c > most {
			best, most = k, c
		}
	}
	return best
}

func (a *arranger) total() float64 {
	sum := 0.0
	for _, area := range a.area {
		sum += area
	}
	return sum
}

func (a *arranger) shown() float64 {
	sum := 0.0
	for i, area := range a.area {
		sum += area * a.seen[i]
	}
	if total := a.total(); total > 0 {
		return sum / total
	}
	return 0
}
