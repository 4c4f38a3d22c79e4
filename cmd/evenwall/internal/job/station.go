package job

import (
	"fmt"
	"strings"
)

// Station is one position of the rods with the time that they hang there.
type Station struct {
	Name     string
	Duration float64 // s; 0 when not said
	Attitude Attitude
	Anodes   []Anode
}

func readStations(v value, attitude Attitude, openings []Opening) []Station {
	var stations []Station
	for i, entry := range v.some("stations") {
		f := entry.fields()
		s := Station{
			Name:     f.get("name").text(),
			Duration: f.get("hours").quantity(duration, notNegative),
			Attitude: readPropped(f, attitude),
			Anodes:   readAnodes(f.need("anodes", "the rods that hang there"), openings),
		}
		if s.Name == "" {
			s.Name = fmt.Sprintf("station %d", i+1)
		}
		f.finish()
		stations = append(stations, s)
	}
	return stations
}

// Only returns a copy of j whose one station is the named one, or an error that
// lists the names there are.
func (j *Job) Only(station string) (*Job, error) {
	names := make([]string, len(j.Stations))
	for i, s := range j.Stations {
		if s.Name == station {
			only := *j
			only.Stations = []Station{s}
			return &only, nil
		}
		names[i] = s.Name
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("%s has no stations: leave out --station", j.Path)
	}
	return nil, fmt.Errorf("%s has no station %q: it has %s", j.Path, station, strings.Join(names, ", "))
}
