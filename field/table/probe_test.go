package table

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"evenwall/geometry"
)

func TestProbe(t *testing.T) {
	s := newSaddle(t, 8e-3)
	set := s.settings()
	tab, err := Build(context.Background(), s.coarse, s.rough, set)
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(7, 8))
	for i := range 24 {
		rods := s.layout(r, 1)
		if i%2 == 1 {
			rods[0].Sleeve = 0
		}
		turned := []geometry.Rod{s.coarse.Turned(rods[0])}
		a, err := tab.evaluate(turned, correction{regular: 1})
		require.NoError(t, err)
		b, err := tab.evaluate(turned, correction{regular: 1.01})
		require.NoError(t, err)
		want := s.solve(t, set, rods, s.coarse, s.rough)
		eps := (want.current - a.Current) / (b.Current - a.Current)
		h, _ := tab.hang(turned)
		st := h.stretches[0]
		t.Logf("%.3f A, far %+.3f %%, regular by %+.2f %%, bare %v of %.3f wet, sleeve %.0f radius %.0f; points %d", want.current, 100*(a.Current/want.current-1), eps, rods[0].Bare[0], tab.wetLength(&turned[0]), 1000*rods[0].Sleeve, 1000*rods[0].Radius, st.last-st.first)
	}
}
