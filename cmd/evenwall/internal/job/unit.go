package job

// unit is one spelling of a unit: SI = number · factor · 10^ten + offset. Powers of
// ten stand apart so that they shift the decimal point of the text exactly, and
// factors are whole where they can be, so that 3/8 in is 9.525 mm to the last digit.
type unit struct {
	name   string
	ten    int
	factor float64 // 0 stands for 1
	offset float64 // SI
}

// kind is a kind of quantity with the units it is read in, the first of them being
// the one it is written in. bare is the unit of a number without one; "" asks for a unit.
type kind struct {
	noun    string
	bare    string
	example string
	units   []unit
	most    float64 // SI; larger is taken for a slip of the pen; 0: no bound
}

// Factors: the inch is 25.4 mm, the gallons are 3.785411784 L and 4.54609 L, the foot
// 0.3048 m, all by definition.
var (
	length = kind{"length", "mm", "40, 1.5 in or 3/8 in", []unit{
		{name: "mm", ten: -3}, {name: "cm", ten: -2}, {name: "m"},
		{name: "in", ten: -4, factor: 254}, {name: "ft", ten: -4, factor: 3048},
	}, 1000}
	angle = kind{"angle", "deg", "8 or 8 deg", []unit{
		{name: "deg", factor: degree}, {name: "rad"},
	}, 0}
	volume = kind{"volume", "", "12 L", []unit{
		{name: "L", ten: -3}, {name: "l", ten: -3}, {name: "ml", ten: -6}, {name: "mL", ten: -6}, {name: "m3"},
		{name: "gal(US)", ten: -12, factor: 3785411784}, {name: "gal(imp)", ten: -8, factor: 454609},
	}, 0}
	conductivity = kind{"conductivity", "", "0.6 S/m", []unit{
		{name: "S/m"}, {name: "mS/cm", ten: -1}, {name: "uS/cm", ten: -4},
	}, 1000}
	salinity  = kind{"count of dissolved salt", "", "3000 ppm", []unit{{name: "ppm"}}, 1e6}
	weight    = kind{"weight", "times", "2", []unit{{name: "times"}}, 1000}
	ppmFactor = kind{"factor of a meter", "ppm/uS/cm", "0.5", []unit{{name: "ppm/uS/cm"}}, 10}
	copper    = kind{"copper of a lead", "", "2.5 mm2 or 14 AWG", []unit{{name: "mm2", ten: -6}, {name: "m2"}}, 1}
	power     = kind{"power", "", "55 W", []unit{{name: "W"}}, 1e6}
	film      = kind{"film", "", "0.02 ohm m2", []unit{
		{name: "ohm m2"}, {name: "ohm cm2", ten: -4},
	}, 1000}
	density = kind{"current density", "", "1 A/m2", []unit{
		{name: "A/m2"}, {name: "A/dm2", ten: 2}, {name: "mA/cm2", ten: 1},
		{name: "A/ft2", factor: 1 / (0.3048 * 0.3048)},
	}, 0}
	charge = kind{"charge on an area", "", "150 A h/m2", []unit{
		{name: "A h/m2", factor: hour}, {name: "Ah/m2", factor: hour}, {name: "C/m2"},
		{name: "mA h/cm2", ten: 1, factor: hour},
	}, 0}
	voltage    = kind{"voltage", "", "12 V", []unit{{name: "V"}, {name: "mV", ten: -3}}, 0}
	resistance = kind{"resistance", "", "0.3 ohm", []unit{{name: "ohm"}, {name: "mohm", ten: -3}}, 0}
	current    = kind{"current", "", "6 A", []unit{{name: "A"}, {name: "mA", ten: -3}}, 0}
	share      = kind{"share", "", "95 %", []unit{{name: "%", ten: -2}}, 0}
	dose       = kind{"dose", "", "4 g/L", []unit{{name: "g/L"}, {name: "g/l"}, {name: "kg/m3"}}, 0}
	duration   = kind{"time", "h", "6 or 6 h", []unit{
		{name: "h", factor: hour}, {name: "min", factor: 60}, {name: "s"},
		{name: "days", factor: 24 * hour}, {name: "day", factor: 24 * hour},
	}, 0}
	temperature = kind{"temperature", "", "20 degC", []unit{
		{name: "degC", offset: 273.15}, {name: "degF", factor: 5.0 / 9, offset: 273.15 - 32*5.0/9}, {name: "K"},
	}, 0}
)

const (
	hour   = 3600.0                // s
	degree = 0.0174532925199432958 // rad
)

// find returns the unit of that name.
func (k kind) find(name string) (unit, bool) {
	for _, u := range k.units {
		if u.name == name {
			return u, true
		}
	}
	return unit{}, false
}

// names lists the units for a message.
func (k kind) names() string {
	text := ""
	for i, u := range k.units {
		if i > 0 {
			text += ", "
		}
		text += u.name
	}
	return text
}
