package mend

import "testing"

func TestSheetLook(t *testing.T) {
	whole := tank(t, "baffle")
	for _, d := range []damage{{}, {lost: .01}, {lost: .05}, {flipped: .5}, {doubled: .05}, {crack: .1e-3}, {crack: .5e-3}, {lost: .05, flipped: .5, doubled: .05, crack: .5e-3}} {
		for seed := range uint64(3) {
			got, r := Sheet(filed(t, d.apply(whole, seed)))
			t.Logf("%+v: area %+.3f %% %d facets of %d; %d holes", d, 100*(got.Area()/whole.Area()-1), len(got.Faces), len(whole.Faces), len(r.Holes))
		}
	}
}
