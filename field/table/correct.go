package table

import (
	"context"
)

// correction puts the table right by what a finer lattice gives.
type correction struct {
	regular float64   // by what the regular part is made greater
	wall    []float32 // by patch: by what its current is; nil: 1
}

func (t *Table) putRight(ctx context.Context) error {
	t.right = correction{regular: 1}
	return nil
}
