package plan

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"sync"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/cmd/evenwall/internal/report"
	"evenwall/geometry"
	"evenwall/geometry/lattice"
	"evenwall/geometry/openings"
	"evenwall/geometry/stlfile"
)

// Measure says what the tank is, what it holds, where air stays in it, and which round
// openings its surface has.
func Measure(ctx context.Context, j *job.Job, show Progress) (*report.Answer, error) {
	show("reading the tank", 0, 2)
	s := j.First()
	t, err := measuredTank(ctx, j, s.Attitude)
	if err != nil {
		return nil, err
	}
	show("comparing ways of propping", 1, 2)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	r := t.result("measure", s.Anodes)
	var picture report.Picture
	var errs [3]error
	twoAtATime(
		func() { picture, errs[0] = t.tankPicture(s.Anodes) },
		func() { r.Surface = t.surface() },
		func() { r.Stances, errs[1] = t.stances(ctx) },
		func() { r.Volumes, errs[2] = t.volumes() },
	)
	if err := errors.Join(errs[:]...); err != nil {
		return nil, err
	}
	return &report.Answer{Result: r, Pictures: []report.Picture{picture}, STL: t.stl}, ctx.Err()
}

// twoAtATime does the work side by side, the longest first, but never more than two at once,
// which would hold too much of a large tank.
func twoAtATime(work ...func()) {
	free := make(chan struct{}, 2)
	var all sync.WaitGroup
	for _, do := range work {
		free <- struct{}{}
		all.Go(func() {
			do()
			<-free
		})
	}
	all.Wait()
}

// stl returns the tank with its inner sheets as a surface file in mm.
func (t *Tank) stl() ([]byte, error) {
	m := geometry.Mesh{}
	m.Append(t.Shell)
	for _, b := range t.Baffles {
		m.Append(b)
	}
	var out bytes.Buffer
	err := stlfile.Write(&out, &m, stlfile.Millimetre, t.Job.Title)
	return out.Bytes(), err
}

// measuredTank is NewTank that also takes a tank without an open opening: the openings may
// be what the command is called for.
func measuredTank(ctx context.Context, j *job.Job, attitude job.Attitude) (*Tank, error) {
	for _, o := range j.Tank.Openings {
		if o.Use == job.Open {
			return NewTank(ctx, j, attitude)
		}
	}
	t, err := emptyTank(j, attitude)
	if err != nil {
		return nil, err
	}
	t.warn("no opening is given as open: the figures are for the whole inside, and air was not looked for")
	t.fillTo(t.highest())
	return t, t.breathe(ctx)
}

// highest returns the height of the highest inside point above the lowest, m.
func (t *Tank) highest() float64 {
	high := 0.0
	for _, f := range t.Shell.Faces {
		for _, k := range f {
			high = math.Max(high, t.Height(t.Shell.Vertices[k]))
		}
	}
	return high
}

// surface returns what was found on the surface that was read, nil for a shape.
func (t *Tank) surface() *report.Surface {
	if t.Read == nil {
		return nil
	}
	file := &t.Read.File
	s := &report.Surface{
		Facets: file.Facets, Shells: file.Shells, OpenEdges: file.Faults.Open,
		SizeMM: point(file.Size), AreaM2: t.Read.Open.Area(),
		Found: t.found(), Holes: t.holes(), LikelyUnit: t.Read.LikelyUnit,
	}
	for _, ring := range openings.Find(&t.Read.Open) {
		s.OpeningsMM = append(s.OpeningsMM, report.Ring{
			CentreMM: point(ring.Centre), DiameterMM: 1000 * ring.Diameter,
			Axis: report.Point{ring.Axis.X, ring.Axis.Y, ring.Axis.Z},
		})
	}
	return s
}

// volumes returns the whole inside by each of the ways there are to it.
func (t *Tank) volumes() (*report.Volumes, error) {
	counted, err := countedVolume(&t.Shell)
	if err != nil {
		return nil, err
	}
	v := &report.Volumes{FacetsL: litres(t.Whole()), LatticeL: litres(counted)}
	if t.Job.Tank.Shape != nil {
		if formula, ok := t.Job.Tank.Shape.Volume(); ok {
			l := litres(formula)
			v.FormulaL = &l
		}
	}
	return v, nil
}

// countedVolume returns what a shell encloses by counting the cells of a lattice, m³. The
// shell is turned to odd angles first: a wall that runs along a layer of cells would count
// the whole layer or none of it.
func countedVolume(shell *geometry.Mesh) (float64, error) {
	const across = 100 // cells along the longest side
	const angle = 0.6  // rad
	turned := shell.Transformed(geometry.RotationAbout(geometry.V(3, 5, 7), angle).Apply)
	box := turned.Bounds()
	size := box.Size()
	l, err := lattice.New(lattice.Placement{Bounds: box, Level: box.Max.Z, H: max(size.X, size.Y, size.Z) / across})
	if err != nil {
		return 0, fmt.Errorf("the volume by counting: %w", err)
	}
	return lattice.Enclose(l, &turned).Volume(), nil
}
