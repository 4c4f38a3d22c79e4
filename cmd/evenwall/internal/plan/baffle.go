package plan

import (
	"fmt"

	"evenwall/cmd/evenwall/internal/job"
	"evenwall/geometry/shape"
)

// addSheets adds the internal sheets that a job gives by their sizes, each only as far as
// it is inside the tank.
func (s *steel) addSheets(j *job.Job) error {
	for i, sheet := range j.Tank.Sheets {
		m := sheet.Mesh(shape.DefaultEdge)
		if sticksOut(&m, &s.shell) {
			inner, err := shape.Within(m, s.shell)
			if err != nil {
				place := len(j.Tank.Baffles) + i
				return j.Blame(job.Fault{Key: fmt.Sprintf("tank.baffles[%d]", place), Text: err.Error()})
			}
			m = inner
		}
		s.baffles = append(s.baffles, m)
	}
	return nil
}
