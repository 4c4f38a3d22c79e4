package job

import "fmt"

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
			Attitude: readAttitude(f.get("attitude"), attitude),
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
