package job

import "strings"

// Bath is the liquid.
type Bath struct {
	Level        Level
	Conductivity float64 // S/m at the bath's own temperature: as measured, else by the recipe; 0 when the job says neither
	Meter        Meter   // what the measured conductivity was read from
	FromRecipe   bool    // Conductivity follows from Soda
	Soda         *Soda   // nil when not said
	Temperature  float64 // K; 0 when not said, see Kelvin
	First        Reading // the first volts and amps with these rods, which win over all of the above
	Headspace    string  // why steel may stay above the level; "" when not said
	KeepsAir     bool    // trapped air stays in; false: it is let out
}

// Level says how high the liquid stands. The zero value is to the brim.
type Level struct {
	By    Measure
	Value float64 // m or m³ by the measure; 0 at the brim
}

// Measure is the way in which a level is given.
type Measure int

const (
	Brim        Measure = iota // to the lowest rim of an open opening
	AboveLowest                // m above the lowest inside point of the propped tank
	BelowRim                   // m below the brim
	Filled                     // m³ of liquid poured in
)

const belowRim = "below rim"

// airs are the words for what becomes of trapped air, by whether it stays.
var airs = []option[bool]{{"let out", false}, {"trapped", true}}

func readBath(v value) Bath {
	f := v.fields()
	b := Bath{
		Level:       readLevel(f.get("level")),
		Soda:        readSoda(f.get("soda")),
		Temperature: f.get("temperature").quantity(temperature, positive),
		First:       readReading(f.get("first_reading")),
		Headspace:   f.get("headspace").text(),
		KeepsAir:    choice(f.get("air"), airs),
	}
	b.readConductivity(f)
	f.finish()
	return b
}

func readLevel(v value) Level {
	text, ok := v.single("brim, a height in mm, 20 mm below rim, or a volume such as 12 L")
	if !ok || text == "brim" {
		return Level{}
	}
	if depth, below := strings.CutSuffix(text, belowRim); below {
		return v.level(BelowRim, length, depth)
	}
	if height, err := length.parse(text); err == nil {
		return Level{AboveLowest, v.above(height, text)}
	}
	if filled, err := volume.parse(text); err == nil {
		return Level{Filled, v.above(filled, text)}
	}
	v.faultf("%q is no level: give brim, mm above the lowest inside point such as 180, 20 mm below rim, or a volume such as 12 L", text)
	return Level{}
}

func (v value) level(by Measure, k kind, text string) Level {
	x, err := k.parse(text)
	if err != nil {
		v.faultf("%v", err)
		return Level{}
	}
	return Level{by, v.above(x, text)}
}

// above faults a level that is not above 0.
func (v value) above(x float64, text string) float64 {
	if x <= 0 {
		v.faultf("%s is not above 0: a level needs liquid", strings.TrimSpace(text))
	}
	return x
}

// String writes the level as the job file has it.
func (l Level) String() string {
	switch l.By {
	case AboveLowest:
		return length.format(l.Value)
	case BelowRim:
		return length.format(l.Value) + " mm " + belowRim
	case Filled:
		return volume.format(l.Value)
	default:
		return "brim"
	}
}
