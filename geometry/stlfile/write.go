package stlfile

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/hschendel/stl"

	"evenwall/geometry"
)

// Write writes m as binary STL whose numbers count unit. name goes into the header,
// which holds 80 characters; a name must not make the file look like text.
func Write(w io.Writer, m *geometry.Mesh, unit Unit, name string) error {
	if unit.Metres() == 0 {
		return errors.New("no unit is given to write the STL file in: use mm, cm, m or in")
	}
	if strings.HasPrefix(strings.ToLower(strings.TrimSpace(name)), "solid") {
		name = "surface of " + name
	}
	s := stl.Solid{BinaryHeader: []byte(fmt.Sprintf("%.60s, %s", name, unit)), Triangles: make([]stl.Triangle, len(m.Faces))}
	for i := range m.Faces {
		t := m.Triangle(i)
		s.Triangles[i] = stl.Triangle{
			Normal:   vec3(t.Normal(), 1),
			Vertices: [3]stl.Vec3{vec3(t.A, 1/unit.Metres()), vec3(t.B, 1/unit.Metres()), vec3(t.C, 1/unit.Metres())},
		}
	}
	buffered := bufio.NewWriterSize(w, 1<<16)
	if err := s.WriteAll(buffered); err != nil {
		return fmt.Errorf("writing STL: %w", err)
	}
	if err := buffered.Flush(); err != nil {
		return fmt.Errorf("writing STL: %w", err)
	}
	return nil
}

func vec3(v geometry.Vec, scale float64) stl.Vec3 {
	return stl.Vec3{float32(v.X * scale), float32(v.Y * scale), float32(v.Z * scale)}
}
