package multigrid

// cycle is Hierarchy.cycle for all lanes.
func (m *Many) cycle(i int) {
	k := &m.levels[i]
	if k.up == nil {
		k.bottom()
		return
	}
	next := &m.levels[i+1]
	k.start()
	k.relax(k.colour[1])
	k.relax(k.rim[0])
	k.relax(k.rim[1])
	k.restrict(next)
	m.cycle(i + 1)
	k.prolong(next)
	k.relax(k.rim[1])
	k.relax(k.rim[0])
	k.relax(k.colour[1])
	k.relax(k.colour[0])
}

// start is a red half sweep from x = 0.
func (k *manyLevel) start() {
	for _, n := range k.colour[1] {
		k.x[n] = [Lanes]float32{}
	}
	for _, n := range k.colour[0] {
		x, b, under := &k.x[n], &k.b[n], k.cells[n].under
		for l := range Lanes {
			x[l] = b[l] * under
		}
	}
}

// bottom solves the coarsest level.
func (k *manyLevel) bottom() {
	if k.direct == nil {
		k.start()
		k.relax(k.colour[1])
		for range 8 {
			k.relax(k.colour[0])
			k.relax(k.colour[1])
			k.relax(k.colour[1])
			k.relax(k.colour[0])
		}
		return
	}
	n := len(k.cells) - 2
	for i := range n {
		var sum [Lanes]float32
		for j, c := range k.direct[i*n : (i+1)*n] {
			b := &k.b[j+1]
			for l := range Lanes {
				sum[l] += c * b[l]
			}
		}
		k.x[i+1] = sum
	}
}
