package render

// cell is a panel's place on the sheet, layout units.
type cell struct {
	outer rect // with its heading and the names at its edges
	inner rect // the picture itself
}

// The room that headings and edge names take around a panel, layout units.
const (
	headingRoom = 38.0 // above, for the title
	nameRoom    = 30.0 // on each side that carries a name
	nameLong    = 62.0 // along a side, for its name
	cellGap     = 14.0
)

// pack finds the largest scale, layout units per metre, at which all panels fit into rows
// of a width within the height, and returns their cells from y = 0 down and the
// y below the last row. Panels keep their order but may fill rows begun before.
func pack(panels []panelPlan, titleWidth func(string) float64, width, height float64) (scale float64, cells []cell, bottom float64) {
	const shrink, least = 0.985, 80.0 // factor from try to try; units that the longest side keeps
	longest, widest := 0.0, 0.0
	for _, p := range panels {
		longest = max(longest, p.span.width(), p.span.height())
		widest = max(widest, p.span.width())
	}
	if longest == 0 {
		return 0, nil, 0
	}
	scale = height / longest
	if widest > 0 {
		scale = (width - 2*nameRoom) / widest
	}
	for {
		cells, bottom = shelves(panels, titleWidth, scale, width)
		if bottom <= height || scale*longest < least {
			return scale, cells, bottom
		}
		scale *= shrink
	}
}

// shelf is a row of cells.
type shelf struct {
	used, height float64
	items        []int
}

// fullWidth is that of a sheet between its margins, layout units.
const fullWidth = sheetWidth - 2*margin

// shelves puts each panel into the first row with room for it. Rows begin at the sheet's
// left margin.
func shelves(panels []panelPlan, titleWidth func(string) float64, scale, width float64) (cells []cell, bottom float64) {
	cells = make([]cell, len(panels))
	var rows []*shelf
	for i, p := range panels {
		cells[i] = p.cell(titleWidth(p.title), scale)
		w, h := cells[i].outer.width(), cells[i].outer.height()
		row := -1
		for k, r := range rows {
			if r.used+cellGap+w <= width {
				row = k
				break
			}
		}
		if row < 0 {
			rows = append(rows, &shelf{used: -cellGap})
			row = len(rows) - 1
		}
		r := rows[row]
		r.used, r.height, r.items = r.used+cellGap+w, max(r.height, h), append(r.items, i)
	}
	for _, r := range rows {
		slack := max(0, width-r.used) / float64(len(r.items)+1)
		x := margin + slack
		for _, i := range r.items {
			w := cells[i].outer.width()
			cells[i] = cells[i].moved(x, bottom)
			x += w + cellGap + slack
		}
		bottom += r.height + cellGap
	}
	return cells, bottom
}

// cell returns the panel's cell with its corner at 0, 0.
func (p *panelPlan) cell(title, scale float64) cell {
	w, h := p.span.width()*scale, p.span.height()*scale
	tall := max(h, nameLong)
	outer := rect{0, 0, max(w+2*nameRoom, title+8), headingRoom + tall + 8}
	top := headingRoom + (tall-h)/2
	if p.view.edge.top != "" {
		top += nameRoom
		outer.y1 += 2 * nameRoom
	}
	x := (outer.x1 - w) / 2
	return cell{outer, rect{x, top, x + w, top + h}}
}

func (c cell) moved(x, y float64) cell {
	shift := func(r rect) rect { return rect{r.x0 + x, r.y0 + y, r.x1 + x, r.y1 + y} }
	return cell{shift(c.outer), shift(c.inner)}
}
