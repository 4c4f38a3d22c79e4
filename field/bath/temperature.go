package bath

// zeroCelsius is 0 degC in kelvin, by definition.
const zeroCelsius = 273.15

// Kelvin returns a temperature given in degC.
func Kelvin(celsius float64) float64 { return celsius + zeroCelsius }

// Celsius returns a temperature given in kelvin.
func Celsius(kelvin float64) float64 { return kelvin - zeroCelsius }
