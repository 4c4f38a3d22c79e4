package plan

import (
	"fmt"
	"path/filepath"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry"
	"evenwall/geometry/carve"
	"evenwall/geometry/mend"
	"evenwall/geometry/shape"
	"evenwall/geometry/stlfile"
	"evenwall/geometry/vessel"
)

// steel is the tank's surfaces as they were read and mended, or made, in the tank's own frame.
type steel struct {
	shell    geometry.Mesh
	baffles  []geometry.Mesh
	read     *Read // of the shell; nil with a shape
	warnings []string
}

// Read is what a surface's file held, and what was done about it.
type Read struct {
	File   stlfile.Report
	Mended mend.Report
	Open   geometry.Mesh // before its holes were closed: rims are looked for in it
	// LikelyUnit is the unit that the capacity points to; "": the job's, or none.
	LikelyUnit string
}

// IsSound reports whether the surface is used as it stands in the file.
func (r *Read) IsSound() bool {
	return r.File.IsClosed() && r.File.IsEven() && r.File.Degenerate+r.File.Doubled == 0 && r.Mended.IsSound()
}

// rough returns how far the shell's corners may be off, m: half of its widest crack.
func (s *steel) rough() float64 {
	if s.read == nil {
		return 0
	}
	return s.read.Mended.Widest / 2
}

// readSteel reads the surfaces of a job, or makes them from its shape. Errors are
// *job.FaultsError.
func readSteel(j *job.Job) (steel, error) {
	var s steel
	if j.Tank.Shape != nil {
		s.shell = j.Tank.Shape.Mesh(shape.DefaultEdge)
	} else if err := s.readShell(j); err != nil {
		return s, j.Blame(job.Fault{Key: "tank.surface", Text: err.Error()})
	}
	for i, path := range j.Tank.Baffles {
		if err := s.readBaffle(path, unitOf(j.Tank.Unit)); err != nil {
			return s, j.Blame(job.Fault{Key: fmt.Sprintf("tank.baffles[%d]", i), Text: err.Error()})
		}
	}
	return s, nil
}

// readShell reads and mends the tank's surface.
func (s *steel) readShell(j *job.Job) error {
	mesh, report, err := stlfile.Read(j.Tank.Surface, unitOf(j.Tank.Unit))
	if err != nil {
		return err
	}
	name := filepath.Base(j.Tank.Surface)
	settings := mendSettings(j)
	settings.Sound = report.IsClosed() && report.IsEven() && report.Shells == 1 && report.Degenerate == 0
	mended, err := mend.Shell(mesh, settings)
	if err != nil {
		return fmt.Errorf("%s %w", name, err)
	}
	s.shell, s.baffles = mended.Shell, mended.Sheets
	s.read = &Read{File: report, Mended: mended.Report, Open: mended.Open}
	if !s.read.IsSound() {
		s.warn("%s is rough: %v; mended, as measure lists; holes count as wall unless an opening is given there", name, report)
	}
	if j.Tank.Skin.Outside && mended.Report.Skins > 0 {
		s.warn("%s shows the inner skin too, %.1f mm from the outer: that one is used, and tank.sheet is not", name, 1000*mended.Report.Skins)
	}
	return nil
}

func mendSettings(j *job.Job) mend.Settings {
	s := mend.Settings{Sheet: j.Tank.Skin.Sheet}
	if j.Tank.Skin.Outside {
		s.Skin = mend.Outside
	}
	openings := openingsOf(j)
	for i := range openings {
		s.Openings = append(s.Openings, mend.Opening{Name: openings[i].Name, Disc: openings[i].Disc()})
	}
	return s
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

// readBaffle reads and mends an inner sheet and takes off what sticks out of the shell.
func (s *steel) readBaffle(path string, unit stlfile.Unit) error {
	sheet, report, err := stlfile.Read(path, unit)
	if err != nil {
		return err
	}
	name := filepath.Base(path)
	if report.IsClosed() {
		s.warn("%s is a closed body: give a baffle as a single sheet, both of its faces count as wall", name)
	} else {
		var mended mend.Report
		if sheet, mended = mend.Sheet(sheet, &s.shell); len(mended.Holes) > 0 {
			s.warn("%s had %d holes and notches under 12 mm, the widest %.1f mm: mended; wider ones count as holes of the baffle", name, len(mended.Holes), 1000*mended.Holes[0].Across)
		}
	}
	if sticksOut(&sheet, &s.shell) {
		inner, err := carve.Trim(&sheet, &s.shell)
		if err != nil || len(inner.Faces) == 0 {
			s.warn("%s sticks out of the tank and could not be trimmed: its area counts whole", name)
		} else {
			sheet = inner
			s.warn("%s sticks out of the tank: only what is inside counts", name)
		}
	}
	s.baffles = append(s.baffles, sheet)
	return nil
}

// sticksOut reports whether a corner of the sheet lies outside the shell by more than a
// weld would close.
func sticksOut(sheet, shell *geometry.Mesh) bool {
	const slack = 1e-3 // m
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
