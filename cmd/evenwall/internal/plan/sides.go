package plan

import "evenwall/geometry"

// sides names the tank's sides as the job has them.
func (t *Tank) sides() geometry.Sides { return t.Job.Tank.Sides }

// third says where p is by thirds of the tank each way.
func (t *Tank) third(p geometry.Vec) string { return t.sides().Third(p, t.Shell.Bounds()) }
