package mend

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/mend/damage"
	"evenwall/geometry/shape"
	"evenwall/geometry/stlfile"
)

// FuzzShell feeds files of any bytes to reading and mending: an answer that is closed and
// encloses something, or an error; never a panic. Small files only, so that it stays quick.
func FuzzShell(f *testing.F) {
	for _, m := range []geometry.Mesh{
		brick(geometry.Vec{}, geometry.V(0.3, 0.2, 0.15), 1),
		brick(geometry.Vec{}, geometry.V(0.3, 0.2, 0.15), 0.15),
		shape.Drum{Diameter: 0.3, Length: 0.35}.Mesh(0.1),
		damage.Damage{Lost: 0.1, Flipped: 0.5, Doubled: 0.2, Crack: 0.5e-3}.Apply(brick(geometry.Vec{}, geometry.V(0.05, 0.05, 0.05), 0.02), 1, nil),
	} {
		var out bytes.Buffer
		require.NoError(f, stlfile.Write(&out, &m, stlfile.Millimetre, "seed"))
		f.Add(out.Bytes(), false)
		f.Add(out.Bytes(), true)
	}
	f.Fuzz(func(t *testing.T, data []byte, outside bool) {
		if len(data) > 84+50*400 {
			t.Skip()
		}
		m, _, err := stlfile.Parse(data, stlfile.Millimetre)
		if err != nil {
			return
		}
		s := Settings{Openings: []Opening{filler}}
		if outside {
			s.Skin, s.Sheet = Outside, 1e-3
		}
		got, err := Shell(m, s)
		Sheet(m, &m)
		if err != nil {
			return
		}
		for _, v := range got.Shell.Vertices {
			require.True(t, v.IsFinite())
		}
		require.False(t, math.IsNaN(got.Shell.Volume()))
		got.Report.Words(geometry.Vec.String)
		if !outside {
			require.Greater(t, got.Shell.Volume(), 0.0)
			isClosed(t, &got.Shell)
		}
	})
}
