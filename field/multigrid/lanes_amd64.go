package multigrid

// The loops over lanes in the vector instructions that every amd64 has, which the compiler does not
// use by itself: eight lanes are two registers. Each does what its plain namesake does, in the same
// order, to the last bit. Numbers of cells are not checked.

//go:noescape
func relaxLanes(x, b *[Lanes]float32, cells *manyCell, list *int32, n int)

//go:noescape
func timesLanes(y, x *[Lanes]float32, cells *manyCell, first, end int)

//go:noescape
func restrictLanes(coarse, b, x *[Lanes]float32, cells *manyCell, up *manyUp, first, end int)

//go:noescape
func prolongLanes(x, coarse *[Lanes]float32, up *manyUp, first, end int)

//go:noescape
func addLanes(y, x, by *[Lanes]float32, n int)

//go:noescape
func foldLanes(y, x, by *[Lanes]float32, n int)

//go:noescape
func dotLanes(sum *[Lanes]float64, x, y *[Lanes]float32, n int)

//go:noescape
func mixLanes(sum, x *[Lanes]float32, cells *int32, weights *float32, n int)

func (k *manyLevel) relax(list []int32) {
	if len(list) > 0 {
		relaxLanes(&k.x[0], &k.b[0], &k.cells[0], &list[0], len(list))
	}
}

func (k *manyLevel) times(y, x Vectors) {
	timesLanes(&y[0], &x[0], &k.cells[0], 1, len(k.cells)-1)
}

func (k *manyLevel) restrict(next *manyLevel) {
	clear(next.b)
	restrictLanes(&next.b[0], &k.b[0], &k.x[0], &k.cells[0], &k.up[0], 1, len(k.cells)-1)
}

func (k *manyLevel) prolong(next *manyLevel) {
	prolongLanes(&k.x[0], &next.x[0], &k.up[0], 1, len(k.cells)-1)
}

func (v Vectors) add(by *[Lanes]float32, x Vectors) { addLanes(&v[0], &x[0], by, len(v)) }

func (v Vectors) fold(by *[Lanes]float32, x Vectors) { foldLanes(&v[0], &x[0], by, len(v)) }

func product(x, y Vectors) (sum [Lanes]float64) {
	dotLanes(&sum, &x[0], &y[0], len(x))
	return sum
}

func (v Vectors) mix(cells []int32, weights []float32) (sum [Lanes]float32) {
	if len(cells) > 0 {
		mixLanes(&sum, &v[0], &cells[0], &weights[0], len(cells))
	}
	return sum
}
