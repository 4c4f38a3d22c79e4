package paper

import (
	"math"
	"strconv"

	"evenwall/geometry"
)

// panel is a flat view of the tank: right and up are directions of its frame.
type panel struct {
	*page
	right, up    geometry.Vec // unit
	x0, y0, w, h float64      // mm on the page
	scale        float64      // mm on the page for each m
	middle       geometry.Vec // of the tank, lands in the middle of the panel
	badges       [][2]float64 // where numbers stand, mm
}

// on returns where a point lands on the page.
func (v *panel) on(p geometry.Vec) (x, y float64) {
	d := p.Sub(v.middle)
	return v.x0 + v.w/2 + v.scale*d.Dot(v.right), v.y0 + v.h/2 - v.scale*d.Dot(v.up)
}

// picture draws the tank cut along and across through the filler, with every station's rods.
func (w *writer) picture(height float64) {
	const gap, label = 6.0, 5.0
	o := &w.Outline
	box := o.Bounds
	for i := range w.Stations {
		for k := range w.Stations[i].Anodes {
			box = box.Include(w.Stations[i].Anodes[k].Path[0])
		}
	}
	sides := w.Job.Tank.Sides
	long, wide, high := sides.Length(box), sides.Width(box), box.Size().Z
	above := w.topRoom(box)
	middle := box.Centre().Add(geometry.V(0, 0, above/2))
	room := w.w - gap - 4*label
	scale := math.Min((height-2*label)/(high+above), room/(long+wide))
	along := panel{page: w.page, right: sides.Front(), up: geometry.V(0, 0, 1), x0: w.x + label, y0: w.y, w: room*long/(long+wide) + label, h: height - label, scale: scale, middle: middle}
	across := along
	across.right = sides.Left().Scale(-1)
	across.x0, across.w = along.x0+along.w+gap, room-along.w+2*label
	w.view(&along, [2][][2]geometry.Vec{o.Along, o.AtTip[0]}, [2]string{"rear", "front"})
	w.view(&across, [2][][2]geometry.Vec{o.Across, o.AtTip[1]}, [2]string{"left", "right"})
	w.y += height + 1
}

// topRoom returns how much of the rods above the tank is shown, m.
func (w *writer) topRoom(box geometry.Box) float64 {
	top := box.Max.Z
	for i := range w.Stations {
		for k := range w.Stations[i].Anodes {
			path := w.Stations[i].Anodes[k].Path
			top = math.Max(top, path[len(path)-1].Z)
		}
	}
	return math.Min(top-box.Max.Z, 0.3*box.Size().Z)
}

// view draws one panel with the steel cut at the filler, and in grey where a lone rod has its
// tip; ends are the sides at its left and right.
func (w *writer) view(v *panel, steel [2][][2]geometry.Vec, ends [2]string) {
	if w.loneRod() {
		w.grey(170)
		v.steel(steel[1], 0.4)
	}
	w.grey(0)
	v.steel(steel[0], 0.7)
	v.level(w.Outline.Surface)
	for i := range w.Stations {
		for k := range w.Stations[i].Anodes {
			a := &w.Stations[i].Anodes[k]
			v.rod(&a.Rod)
			v.badge(&a.Rod, i, len(w.Stations))
		}
	}
	w.font("", w.body)
	w.names(v)
	y := v.y0 + v.h
	w.at(v.x0, y, ends[0])
	cut := "cut at the filler"
	room := v.w - w.wide(ends[0]) - w.wide(ends[1]) - 6
	if long := cut + ", grey: at the tip"; w.loneRod() && w.wide(long) < room {
		cut = long
	}
	if w.wide(cut) < room {
		w.at(v.x0+(v.w-w.wide(cut))/2, y, cut)
	}
	w.at(v.x0+v.w-w.wide(ends[1]), y, ends[1])
}

// loneRod reports whether one rod hangs in one station.
func (w *writer) loneRod() bool { return len(w.Stations) == 1 && len(w.Stations[0].Anodes) == 1 }

// steel draws a cut.
func (v *panel) steel(lines [][2]geometry.Vec, width float64) {
	for _, s := range lines {
		x0, y0 := v.on(s[0])
		x1, y1 := v.on(s[1])
		v.line(x0, y0, x1, y1, width)
	}
}

// level draws the liquid's surface as a broken line.
func (v *panel) level(s geometry.Plane) {
	up := s.Normal.Dot(v.up)
	if up < 0.2 {
		return
	}
	height := func(across float64) geometry.Vec { // a point of the surface at so many m to the right of the middle
		p := v.middle.AddScaled(v.right, across)
		return p.AddScaled(v.up, -s.Height(p)/up)
	}
	half := v.w / 2 / v.scale
	x0, y0 := v.on(height(-half))
	x1, y1 := v.on(height(half))
	v.pdf.SetDashPattern([]float64{2, 1.4}, 0)
	v.line(x0, y0, x1, y1, 0.3)
	v.pdf.SetDashPattern(nil, 0)
}

// rod draws a rod: bare metal black, plastic as an empty tube.
func (v *panel) rod(r *geometry.Rod) {
	_, high := v.on(v.middle.AddScaled(v.up, v.h/2/v.scale))
	v.pdf.ClipRect(v.x0-6, high+1, v.w+12, v.h+2, false)
	whole := r.Length()
	for _, piece := range r.Pieces(0, whole) {
		x0, y0 := v.on(piece[0])
		x1, y1 := v.on(piece[1])
		v.line(x0, y0, x1, y1, 1.8)
		v.pdf.SetDrawColor(255, 255, 255)
		v.line(x0, y0, x1, y1, 1.1)
		v.grey(0)
	}
	for _, bare := range r.Bare {
		for _, piece := range r.Pieces(bare.From, bare.To) {
			x0, y0 := v.on(piece[0])
			x1, y1 := v.on(piece[1])
			v.line(x0, y0, x1, y1, 1.8)
		}
	}
	v.pdf.ClipEnd()
}

// badge writes the station's number beside the tip of its rod, when there are several.
func (v *panel) badge(r *geometry.Rod, station, of int) {
	if of < 2 {
		return
	}
	const radius = 2.6
	x, y := v.on(r.Path[0])
	for x += 4.2; v.taken(x, y, 2*radius); x += 0.5 {
	}
	v.badges = append(v.badges, [2]float64{x, y})
	v.pdf.SetFillColor(255, 255, 255)
	v.pdf.SetLineWidth(0.35)
	v.pdf.Circle(x, y, radius, "FD")
	v.font("B", v.body)
	text := strconv.Itoa(station + 1)
	v.at(x-v.wide(text)/2, y-2.1, text)
	v.font("", v.body)
}

// taken reports whether a number stands nearer than near to a place, mm.
func (v *panel) taken(x, y, near float64) bool {
	for _, b := range v.badges {
		if math.Hypot(b[0]-x, b[1]-y) < near {
			return true
		}
	}
	return false
}

// names writes the openings that face up or down in a panel.
func (w *writer) names(v *panel) {
	for _, o := range w.Outline.Openings {
		off := math.Abs(o.Centre.Sub(w.Outline.Cut).Dot(v.right.Cross(v.up)))
		up := o.Axis.Dot(v.up)
		if off > o.Diameter/2 || math.Abs(up) < 0.5 {
			continue
		}
		x, y := v.on(o.Centre.AddScaled(v.right, o.Diameter/2))
		y -= 5.4
		if up < 0 {
			y += 6.2
		}
		wide := w.wide(o.Name)
		for x += 1.5; w.rodAt(v, x, y, wide) && x+wide < v.x0+v.w; x++ {
		}
		w.at(x, y, o.Name)
	}
}

// rodAt reports whether any rod is drawn where a text of a width would stand.
func (w *writer) rodAt(v *panel, x, y, wide float64) bool {
	const high, off = 4.6, 1.5 // mm, of the text and of the rod's line about its axis
	for i := range w.Stations {
		for k := range w.Stations[i].Anodes {
			r := &w.Stations[i].Anodes[k].Rod
			for s := 0.0; s <= r.Length(); s += 0.003 {
				p, _ := r.At(s)
				if px, py := v.on(p); px > x-off && px < x+wide+off && py > y-off && py < y+high+off {
					return true
				}
			}
		}
	}
	return false
}
