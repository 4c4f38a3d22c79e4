package job

import (
	"os"
	"path/filepath"
	"strings"

	"evenwall/geometry"
)

// Job is a job file as it was checked: SI units, radians, the tank's own frame (z up
// as the tank lies in its surface or shape), paths resolved against the folder of the
// job file.
type Job struct {
	Path     string // the file that was read; "" for a job from elsewhere
	Title    string // the file's name without its ending when it gives none
	Tank     Tank
	Bath     Bath
	Wall     Law
	Supply   Supply
	Anodes   []Anode   // nil when the file gives stations
	Stations []Station // nil when the file gives anodes
	Search   Search
	Aim      Aim

	Materials  Materials
	NegativeAt string // bare metal of the tank that the negative clip goes to; "" when not said
	Riser      Riser

	Unreached []string // wall that no layout reaches, as layout noted it for the sheet
}

// Load reads and checks the job file at path. A file that cannot be read or that is
// wrong gives a *FaultsError.
func Load(path string) (*Job, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	return Parse(path, text)
}

// Parse checks text as the job file at path; relative paths in it are resolved
// against the folder of path. The file at path is not opened.
func Parse(path string, text []byte) (*Job, error) {
	r := &reader{}
	j := &Job{Path: path}
	if root, ok := r.document(text); ok {
		j.read(root)
	}
	if len(r.faults) > 0 {
		return nil, r.errorFor(path)
	}
	return j, nil
}

func (j *Job) read(f *fields) {
	if v := f.need("job", "1, the version of this format"); v.given() && v.raw() != "1" {
		v.faultf("%q is no version that this program reads: give 1", v.raw())
	}
	j.Title = f.get("title").text()
	if j.Title == "" {
		base := filepath.Base(j.Path)
		j.Title = strings.TrimSuffix(base, filepath.Ext(base))
	}
	j.Tank = readTank(f.need("tank", "the surface or the shape of the tank"), filepath.Dir(j.Path))
	j.Bath = readBath(f.get("bath"))
	j.Wall = readWall(f.get("wall"))
	j.Supply = readSupply(f.get("supply"))
	openings := j.Tank.Openings
	anodes, stations := f.get("anodes"), f.get("stations")
	if anodes.given() && stations.given() {
		stations.faultf("stations stand instead of anodes: keep one of the two")
	}
	j.Anodes = readAnodes(anodes, openings)
	j.Stations = readStations(stations, j.Tank.Attitude, openings)
	j.Search = readSearch(f.get("search"))
	j.Aim = readAim(f.get("aim"))
	j.Materials = readMaterials(f.get("materials"))
	j.NegativeAt = f.get("negative_at").text()
	j.Riser = readRiser(f.get("riser"))
	for _, note := range f.get("unreached").list("notes, each a text") {
		j.Unreached = append(j.Unreached, note.text())
	}
	f.finish()
}

// First returns the first station, or the anodes in the tank's own attitude as one
// station without hours when the job has no stations.
func (j *Job) First() Station {
	if len(j.Stations) > 0 {
		return j.Stations[0]
	}
	return Station{Attitude: j.Tank.Attitude, Anodes: j.Anodes}
}

// Attitude is how the tank is propped: turned by Rx(roll) · Ry(pitch) about its fixed
// axes, whatever its sides are called. Pitch above 0 lowers +x, roll above 0 lifts +y.
type Attitude struct{ Pitch, Roll float64 } // rad

// Rotation returns the rotation from the tank's own frame into the propped one.
func (a Attitude) Rotation() geometry.Rotation { return geometry.Attitude(a.Pitch, a.Roll) }

// Up returns the plumb line's upward direction in the tank's own frame.
func (a Attitude) Up() geometry.Vec { return a.Rotation().Inverse().Apply(geometry.V(0, 0, 1)) }

func readAttitude(v value, otherwise Attitude) Attitude {
	if !v.given() {
		return otherwise
	}
	f := v.fields()
	a := Attitude{Pitch: f.get("pitch").quantity(angle, anySign), Roll: f.get("roll").quantity(angle, anySign)}
	f.finish()
	return a
}
