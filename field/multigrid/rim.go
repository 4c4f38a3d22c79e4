package multigrid

// rimKinds marks the rim: the cells in the two layers next to the wall, those with a conductance to
// it and their neighbours.
func rimKinds(a *Operator, walls []Wall) []kind {
	kinds, wall := make([]kind, a.Len()+2), make([]bool, a.Len()+2)
	for i := range walls {
		wall[walls[i].Cell] = true
	}
	a.visitNeighbours(func(n, m int32) {
		if wall[n] {
			kinds[n], kinds[m] = cut, cut
		}
	})
	return kinds
}

// visitNeighbours calls visit with the guarded indices of every cell and each cell that
// it has a conductance to; a cell without any is visited with itself.
func (a *Operator) visitNeighbours(visit func(n, m int32)) {
	for _, r := range a.Cells.Runs {
		steps := [6]int32{-1, 1, r.Step[0], r.Step[1], r.Step[2], r.Step[3]}
		for n := r.First + 1; n <= r.End; n++ {
			visit(n, n)
			for d, c := range a.beside(n) {
				if c > 0 {
					visit(n, n+steps[d])
				}
			}
		}
	}
}
