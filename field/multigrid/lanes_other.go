//go:build !amd64

package multigrid

func (k *manyLevel) relax(list []int32) { k.relaxPlain(list) }

func (k *manyLevel) times(y, x Vectors) { k.timesPlain(y, x) }

func (k *manyLevel) restrict(next *manyLevel) { k.restrictPlain(next) }

func (k *manyLevel) prolong(next *manyLevel) { k.prolongPlain(next) }

func (v Vectors) add(by *[Lanes]float32, x Vectors) { v.addPlain(by, x) }

func (v Vectors) fold(by *[Lanes]float32, x Vectors) { v.foldPlain(by, x) }

func product(x, y Vectors) [Lanes]float64 { return productPlain(x, y) }

func (v Vectors) mix(cells []int32, weights []float32) [Lanes]float32 {
	return v.mixPlain(cells, weights)
}
