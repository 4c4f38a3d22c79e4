package plan

import (
	"evenwall/cmd/evenwall/internal/job"
	"evenwall/field"
	"evenwall/field/electrode"
)

// lawOf returns a job's electrode law as the field takes it.
func lawOf(l job.Law) electrode.Law {
	var parts electrode.Series
	if l.Film > 0 {
		parts = append(parts, electrode.Film{Resistance: l.Film})
	}
	if l.Exchange > 0 {
		parts = append(parts, electrode.Sinh{Exchange: l.Exchange, Slope: l.Slope})
	}
	switch len(parts) {
	case 0:
		return electrode.Primary{}
	case 1:
		return parts[0]
	default:
		return parts
	}
}

// supplyOf returns what drives the rods.
func supplyOf(j *job.Job, anodes []job.Anode) field.Supply {
	return field.Supply{Voltage: j.Supply.Voltage, Resistance: j.Supply.Resistance, Limit: j.Supply.Limit,
		Dead: j.DeadVoltage(anodes)}
}
