package plan

import (
	"fmt"
	"path/filepath"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/geometry/carve"
	"evenwall/geometry/shape"
	"evenwall/geometry/stlfile"
	"evenwall/geometry/vessel"
)

// steel is the tank's surfaces as they were read or made, in the tank's own frame.
type steel struct {
	shell    geometry.Mesh
	baffles  []geometry.Mesh
	report   *stlfile.Report // of the shell; nil with a shape
	warnings []string
}

// readSteel reads the surfaces of a job, or makes them from its shape. Errors are
// *job.FaultsError.
func readSteel(j *job.Job) (steel, error) {
	var s steel
	unit := unitOf(j.Tank.Unit)
	if j.Tank.Shape != nil {
		s.shell = j.Tank.Shape.Mesh(shape.DefaultEdge)
	} else {
		mesh, report, err := stlfile.Read(j.Tank.Surface, unit)
		if err != nil {
			return s, j.Blame(job.Fault{Key: "tank.surface", Text: err.Error()})
		}
		if !report.IsEven() {
			mesh = turnedEvenly(mesh)
		}
		s.shell, s.report = mesh, &report
		s.warnAbout(j.Tank.Surface, report)
	}
	for i, path := range j.Tank.Baffles {
		if err := s.readBaffle(path, unit); err != nil {
			return s, j.Blame(job.Fault{Key: fmt.Sprintf("tank.baffles[%d]", i), Text: err.Error()})
		}
	}
	return s, nil
}

// unitOf returns the file unit of a length in metres, millimetres for any other.
func unitOf(metres float64) stlfile.Unit {
	for _, u := range []stlfile.Unit{stlfile.Centimetre, stlfile.Metre, stlfile.Inch} {
		if u.Metres() == metres {
			return u
		}
	}
	return stlfile.Millimetre
}

func (s *steel) warn(format string, args ...any) {
	s.warnings = append(s.warnings, fmt.Sprintf(format, args...))
}

// warnAbout says what in a surface makes its figures less certain.
func (s *steel) warnAbout(path string, r stlfile.Report) {
	if r.IsClosed() && r.IsEven() && r.Degenerate+r.Doubled == 0 {
		return
	}
	s.warn("%s is rough: %v; holes count as wall unless an opening is given there", filepath.Base(path), r)
}

// readBaffle reads an inner sheet and takes off what sticks out of the shell.
func (s *steel) readBaffle(path string, unit stlfile.Unit) error {
	sheet, report, err := stlfile.Read(path, unit)
	if err != nil {
		return err
	}
	if report.IsClosed() {
		s.warn("%s is a closed body: give a baffle as a single sheet, both of its faces count as wall", filepath.Base(path))
	}
	if sticksOut(&sheet, &s.shell) {
		inner, err := carve.Trim(&sheet, &s.shell)
		if err != nil || len(inner.Faces) == 0 {
			s.warn("%s sticks out of the tank and could not be trimmed: its area counts whole", filepath.Base(path))
		} else {
			sheet = inner
			s.warn("%s sticks out of the tank: only what is inside counts", filepath.Base(path))
		}
	}
	s.baffles = append(s.baffles, sheet)
	return nil
}

// sticksOut reports whether a corner of the sheet lies outside the shell by more than a
// weld would close.
func sticksOut(sheet, shell *geometry.Mesh) bool {
	const slack = 2e-4 // m
	inside := newInside(shell)
	for _, p := range sheet.Vertices {
		if !inside.holds(p) {
			if _, _, d := inside.tree.ClosestWithin(p, 2*slack); !(d <= slack) {
				return true
			}
		}
	}
	return false
}

// openingsOf returns the openings of a job as the vessel takes them.
func openingsOf(j *job.Job) []vessel.Opening {
	uses := map[job.Use]vessel.Use{job.Open: vessel.Open, job.Plugged: vessel.Plugged, job.Steel: vessel.Steel}
	var out []vessel.Opening
	for _, o := range j.Tank.Openings {
		out = append(out, vessel.Opening{Name: o.Name, Centre: o.Centre, Axis: o.Axis, Diameter: o.Diameter, Use: uses[o.Use]})
	}
	return out
}
