package plan

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/geometry/stlfile"
)

// million returns the reference saddle's job with its surface split into about a million
// facets.
func million(b *testing.B) (*job.Job, int) {
	const side = 0.00154 // m: at most so long
	j, err := job.Load(filepath.Join(casesFolder, "saddle-tilted", "job.yaml"))
	require.NoError(b, err)
	m, _, err := stlfile.Read(j.Tank.Surface, stlfile.Millimetre)
	require.NoError(b, err)
	var fine geometry.Mesh
	for i := range m.Faces {
		m.Triangle(i).Split(side, func(f geometry.Triangle) {
			n := int32(len(fine.Vertices))
			fine.Vertices = append(fine.Vertices, f.A, f.B, f.C)
			fine.Faces = append(fine.Faces, [3]int32{n, n + 1, n + 2})
		})
	}
	j.Tank.Surface = filepath.Join(b.TempDir(), "tank.stl")
	file, err := os.Create(j.Tank.Surface)
	require.NoError(b, err)
	require.NoError(b, stlfile.Write(file, &fine, stlfile.Millimetre, "fine saddle"))
	require.NoError(b, file.Close())
	return j, len(fine.Faces)
}

// The time and memory of a very fine scan: go test ./cmd/evenwall/internal/plan -run xxx -bench Million -benchtime 3x.
func BenchmarkMillionFacets(b *testing.B) {
	type command func(context.Context, *job.Job, Progress) (*report.Answer, error)
	for name, run := range map[string]command{"measure": Measure, "current": Current, "clearance": Clearance} {
		b.Run(name, func(b *testing.B) {
			j, facets := million(b)
			b.ReportAllocs()
			for b.Loop() {
				_, err := run(context.Background(), j, func(string, int, int) {})
				require.NoError(b, err)
			}
			b.ReportMetric(float64(facets), "facets")
		})
	}
}
