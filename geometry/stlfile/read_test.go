package stlfile

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/geometry"
	"evenwall/geometry/shape"
	"evenwall/geometry/topology"
)

const surfaces = "../../testdata/stl/"

// The volumes are those of the finite-element meshes that the files were made with.
func TestReadsTheReferenceSurfaces(t *testing.T) {
	for _, c := range []struct {
		file             string
		facets, vertices int // from the file's own header; vertices by Euler: facets/2 + 2
		litres           float64
		size             geometry.Vec // mm, as described in testdata/stl/README.md
	}{
		{"../cases/saddle-tilted/tank.stl", 76040, 38022, 14.375667859759762, geometry.V(420, 260, 190)},
		{"drum.stl", 35708, 17856, 31.808625617596654, geometry.V(500, 300, 300)},
		{"box.stl", 30284, 15144, 20, geometry.V(400, 250, 200)},
	} {
		m, r, err := Read(surfaces+c.file, Millimetre)
		require.NoError(t, err)
		assert.Equal(t, c.facets, r.Facets)
		assert.Equal(t, c.vertices, r.Vertices)
		assert.Equal(t, 1, r.Shells)
		assert.True(t, r.IsClosed() && r.IsEven(), c.file)
		assert.Zero(t, r.Degenerate+r.Doubled)
		// The elements are curved and the facets flat: 0.1 %.
		assert.InEpsilon(t, c.litres, m.Volume()*1000, 0.001, c.file)
		assert.InDelta(t, 0, r.Size.Scale(1000).Dist(c.size), 1e-3, c.file)
	}
}

func TestSheetIsOpenAlongItsRims(t *testing.T) {
	m, r, err := Read(surfaces+"baffle.stl", Millimetre)
	require.NoError(t, err)
	assert.False(t, r.IsClosed())
	assert.Contains(t, r.String(), "open edges")
	edges := topology.Edges(&m)
	assert.Len(t, topology.Loops(edges), 2, "the sheet's edge and its hole")
	assert.InEpsilon(t, 0.25*0.14-math.Pi*0.02*0.02, m.Area(), 0.001)
}

// Binary and text of the same surface are the same mesh, in any unit.
func TestBinaryAndTextAgree(t *testing.T) {
	want := shape.Drum{Diameter: 0.3, Length: 0.35, Head: shape.Head{Kind: shape.Elliptical}}.Mesh(0.02)
	for _, u := range units {
		var file bytes.Buffer
		require.NoError(t, Write(&file, &want, u, "solid drum"))
		a, ra, err := Parse(file.Bytes(), u)
		require.NoError(t, err)
		b, rb, err := Parse([]byte(asText(&want, u)), u)
		require.NoError(t, err)
		assert.False(t, ra.Text)
		assert.True(t, rb.Text)
		assert.Equal(t, len(want.Vertices), ra.Vertices, u.String())
		assert.Equal(t, a.Faces, b.Faces)
		assert.InEpsilon(t, want.Volume(), a.Volume(), 1e-6)
		assert.InEpsilon(t, want.Volume(), b.Volume(), 1e-5, "six digits")
		assert.True(t, rb.IsClosed() && rb.IsEven())
	}
}

// asText writes m as some exporters do: capitals, tabs, blank lines, Windows line ends.
func asText(m *geometry.Mesh, u Unit) string {
	var b strings.Builder
	b.WriteString("Solid the tank, facet by facet\r\n\r\n")
	for i := range m.Faces {
		t := m.Triangle(i)
		b.WriteString("\tFACET NORMAL 0.0 -nan(ind) 1e999\r\n\t\tOUTER LOOP\r\n")
		for _, v := range []geometry.Vec{t.A, t.B, t.C} {
			v = v.Scale(1 / u.Metres())
			fmt.Fprintf(&b, "\t\t\tVERTEX %.6E %.6E %.6E\r\n", v.X, v.Y, v.Z)
		}
		b.WriteString("\t\tENDLOOP\r\n\tENDFACET\r\n\r\n")
	}
	b.WriteString("EndSolid the tank\r\n")
	return b.String()
}

func TestSeveralSolidsInOneTextAreShells(t *testing.T) {
	box := shape.Box{Length: 0.2, Width: 0.1, Height: 0.1}.Mesh(0.1)
	away := box.Transformed(func(v geometry.Vec) geometry.Vec { return v.Add(geometry.V(1, 0, 0)) })
	_, r, err := Parse([]byte(asText(&box, Millimetre)+asText(&away, Millimetre)), Millimetre)
	require.NoError(t, err)
	assert.Equal(t, 2, r.Shells)
}

func TestWeldsAndDropsAndCounts(t *testing.T) {
	// 0.2 x 0.1 x 0.1 m: the diagonal is 0.245 m, so corners weld within 0.49 µm.
	box := shape.Box{Length: 0.2, Width: 0.1, Height: 0.1}.Mesh(0.1)
	soup := geometry.Mesh{}
	for i := range box.Faces {
		tri := box.Triangle(i)
		tri.A.X += 1e-7 * float64(i%2)
		n := int32(len(soup.Vertices))
		soup.Vertices = append(soup.Vertices, tri.A, tri.B, tri.C)
		soup.Faces = append(soup.Faces, [3]int32{n, n + 1, n + 2})
	}
	soup.Faces = append(soup.Faces, soup.Faces[0], [3]int32{0, 0, 1})
	last := &soup.Faces[len(box.Faces)-1]
	last[0], last[1] = last[1], last[0]
	var file bytes.Buffer
	require.NoError(t, Write(&file, &soup, Millimetre, "box"))

	m, r, err := Parse(file.Bytes(), Millimetre)
	require.NoError(t, err)
	assert.Equal(t, len(box.Faces)+2, r.Facets)
	assert.Len(t, m.Vertices, len(box.Vertices))
	assert.Greater(t, r.Welded, 0)
	assert.Equal(t, 1, r.Doubled)
	assert.Equal(t, 1, r.Degenerate)
	assert.Equal(t, topology.Faults{Flipped: 3}, r.Faults)
	assert.InDelta(t, 0.49e-6, r.Weld, 0.01e-6)
}

// A facet whose corners lie on one line fills a T-joint: it goes, but the surface
// counts as closed.
func TestLineFacetsLeaveTheSurfaceClosed(t *testing.T) {
	a, b, c, d := geometry.V(0, 0, 0), geometry.V(0.1, 0, 0), geometry.V(0, 0.1, 0), geometry.V(0, 0, 0.1)
	mid := geometry.V(0.05, 0, 0)
	m := geometry.Mesh{
		Vertices: []geometry.Vec{a, b, c, d, mid},
		Faces:    [][3]int32{{0, 2, 1}, {0, 4, 3}, {4, 1, 3}, {0, 1, 4}, {0, 3, 2}, {1, 2, 3}},
	}
	var file bytes.Buffer
	require.NoError(t, Write(&file, &m, Millimetre, "corner"))
	got, r, err := Parse(file.Bytes(), Millimetre)
	require.NoError(t, err)
	assert.Equal(t, 1, r.Degenerate)
	assert.Len(t, got.Faces, 5)
	assert.True(t, r.IsClosed())
}

func TestFaultyFilesAreNamed(t *testing.T) {
	box := shape.Box{Length: 0.2, Width: 0.1, Height: 0.1}.Mesh(0.1)
	var whole bytes.Buffer
	require.NoError(t, Write(&whole, &box, Millimetre, "box"))
	binaryBox, text := whole.Bytes(), asText(&box, Millimetre)
	patched := func(at int, bits uint32) []byte {
		out := bytes.Clone(binaryBox)
		binary.LittleEndian.PutUint32(out[at:], bits)
		return out
	}
	noFacets := bytes.Clone(binaryBox[:headerBytes])
	binary.LittleEndian.PutUint32(noFacets[80:], 0)
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"empty":         {nil, "is empty"},
		"short":         {[]byte("tank"), "is no STL file: it has 4 bytes"},
		"picture":       {append([]byte("\x89PNG\r\n\x1a\n"), bytes.Repeat([]byte{0xab}, 300)...), "is no STL file"},
		"prose":         {[]byte(strings.Repeat("The tank stands in the pump house. ", 20)), "is no STL file"},
		"cut":           {binaryBox[:len(binaryBox)-70], fmt.Sprintf("is cut short: it says %d facets and holds %d", len(box.Faces), len(box.Faces)-2)},
		"trailing":      {append(bytes.Clone(binaryBox), 1, 2, 3), "has 3 bytes after its last facet"},
		"no facets":     {noFacets, "holds no facets"},
		"nan":           {patched(headerBytes+12, 0x7fc00000), "facet 1 has a corner at [NaN"},
		"inf":           {patched(headerBytes+50+16, 0x7f800000), "facet 2 has a corner at"},
		"vast":          {patched(headerBytes+12, math.Float32bits(1e30)), "no tank: export it again, with its size in mm"},
		"text cut":      {[]byte(text[:len(text)/2]), "is cut short: it ends after facet"},
		"text trailing": {[]byte(text + "and so on\n"), "stands after \"endsolid\""},
		"text nested":   {[]byte("solid a\nsolid b\nendsolid\n"), "line 2 starts a second solid"},
		"text no facet": {[]byte("solid a\nendsolid a\n"), "holds no facets"},
		"text word":     {[]byte(strings.Replace(text, "VERTEX ", "VERTEX x", 1)), "facet 1: unable to parse float"},
		"text inf":      {[]byte(strings.Replace(text, "VERTEX ", "VERTEX inf 0 0 ", 1)), "cannot be read: facet 1"},
	} {
		_, _, err := Parse(c.data, Millimetre)
		assert.ErrorContains(t, err, c.want, name)
	}
	_, _, err := Parse(binaryBox, 0)
	assert.ErrorContains(t, err, "no unit is given")
	_, _, err = Parse(binaryBox, Metre)
	assert.ErrorContains(t, err, "is 2e+05 mm long when its numbers are m, no tank: say mm (200 mm long) or cm (2000 mm long) or in (5080 mm long)")
}

func TestErrorsNameTheFile(t *testing.T) {
	dir := t.TempDir()
	_, _, err := Read(filepath.Join(dir, "none.stl"), Millimetre)
	require.ErrorIs(t, err, fs.ErrNotExist)
	assert.ErrorContains(t, err, "none.stl: there is no such file")
	_, _, err = Read(dir, Millimetre)
	assert.ErrorContains(t, err, "is a folder")
	path := filepath.Join(dir, "hollow.stl")
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	_, _, err = Read(path, Millimetre)
	var file *FileError
	require.ErrorAs(t, err, &file)
	assert.Equal(t, path, file.Path)
}

// The library takes blank lines one inside the other: a million would need a gigabyte.
func TestAMillionBlankLines(t *testing.T) {
	text := append([]byte("solid a\n"), bytes.Repeat([]byte("\n"), 1_000_000)...)
	_, _, err := Parse(text, Millimetre)
	assert.ErrorContains(t, err, "is cut short")
}

func TestParseUnit(t *testing.T) {
	for name, want := range map[string]float64{"mm": 0.001, "cm": 0.01, "m": 1, " IN": 0.0254} {
		u, err := ParseUnit(name)
		require.NoError(t, err)
		assert.Equal(t, want, u.Metres())
	}
	_, err := ParseUnit("ft")
	assert.ErrorContains(t, err, `unit "ft" is not known`)
}

// Whatever the bytes, an answer or an error, and never a corner that is no number.
func FuzzRead(f *testing.F) {
	box := shape.Box{Length: 0.2, Width: 0.1, Height: 0.1}.Mesh(0.1)
	var whole bytes.Buffer
	require.NoError(f, Write(&whole, &box, Millimetre, "box"))
	f.Add(whole.Bytes())
	f.Add([]byte(asText(&box, Millimetre)))
	f.Add([]byte("solid\nfacet normal 0 0 0\nouter loop\nvertex 1 2 3\nendsolid"))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, r, err := Parse(data, Millimetre)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.NotEmpty(t, m.Faces)
		require.Equal(t, len(m.Faces), r.Facets-r.Degenerate-r.Doubled)
		for i := range m.Faces {
			require.True(t, m.Triangle(i).Area() > 0)
		}
	})
}

func BenchmarkReadSaddle(b *testing.B) {
	for b.Loop() {
		if _, _, err := Read(surfaces+"../cases/saddle-tilted/tank.stl", Millimetre); err != nil {
			b.Fatal(err)
		}
	}
}

// A million facets: a ball of 0.4 m.
func BenchmarkParseMillion(b *testing.B) {
	m := shape.Box{Length: 0.4, Width: 0.4, Height: 0.4, Radius: 0.2}.Mesh(0.0013)
	for len(m.Faces) < 1_000_000 {
		far := m.Transformed(func(v geometry.Vec) geometry.Vec { return v.Add(geometry.V(0.5, 0, 0)) })
		m.Append(far)
	}
	m.Faces = m.Faces[:1_000_000]
	var file bytes.Buffer
	require.NoError(b, Write(&file, &m, Millimetre, "ball"))
	for b.Loop() {
		if _, _, err := Parse(file.Bytes(), Millimetre); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadText(b *testing.B) {
	m, _, err := Read(surfaces+"drum.stl", Millimetre)
	require.NoError(b, err)
	text := []byte(asText(&m, Millimetre))
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, _, err := Parse(text, Millimetre); err != nil {
			b.Fatal(err)
		}
	}
}
