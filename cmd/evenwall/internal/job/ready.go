package job

// Need is what a command cannot do without, beyond the tank.
type Need int

const (
	NeedAnodes       Need = 1 << iota // a rod or a station
	NeedConductivity                  // of the bath
	NeedVoltage                       // of the supply
	NeedOpening                       // one that is open, for a rod to hang in
)

// Ready returns nil when j has all that is needed, or a *FaultsError that names every
// key that is missing.
func (j *Job) Ready(need Need) error {
	var faults []Fault
	missing := func(n Need, lacks bool, key, text string) {
		if need&n != 0 && lacks {
			faults = append(faults, Fault{Key: key, Text: text})
		}
	}
	missing(NeedAnodes, len(j.First().Anodes) == 0, "anodes",
		"are missing: give at least one rod with its diameter, top and tip")
	missing(NeedConductivity, j.Bath.Conductivity == 0, "bath.conductivity",
		"is missing: give it as measured, such as 0.6 S/m or 6 mS/cm")
	missing(NeedVoltage, j.Supply.Voltage == 0, "supply.voltage",
		"is missing: give the open-circuit voltage, such as 12 V")
	missing(NeedOpening, !j.hasOpen(), "tank.openings",
		"have none that is open: a rod hangs in an opening; the command measure finds the round ones of a surface")
	if len(faults) > 0 {
		return &FaultsError{File: j.Path, Faults: faults}
	}
	return nil
}

func (j *Job) hasOpen() bool {
	for _, o := range j.Tank.Openings {
		if o.Use == Open {
			return true
		}
	}
	return false
}
