package report

// Cautions returns what applies whenever the program tells someone what to do; it
// ends every such summary and promises nothing.
func Cautions() string {
	t := &table{}
	t.lines("before the switch", cautions)
	return t.String()
}

const (
	heldFuel   = "A tank that held fuel is first dealt with by local rules and a licensed person."
	localCodes = "Local codes come before anything printed here."
)

var cautions = []string{
	"Tank NEGATIVE, rod POSITIVE: read it with the meter before the switch. Reversed",
	"leads eat the tank.",
	"Hydrogen comes off with oxygen: flammable from the first minute, open or closed.",
	"Keep flame and spark away; make and break the clips away from it, supply off.",
	heldFuel,
	"No stainless, galvanised or copper in the bath, and none on the rod.",
	localCodes,
}

// cautionsFor returns what applies to what is done on a command's answer: a tank that was only
// measured is handled and filled, and nothing is switched on.
func cautionsFor(command string) string {
	if command != "measure" {
		return Cautions()
	}
	t := &table{}
	t.lines("before it is handled, propped or filled", []string{heldFuel, localCodes})
	return t.String()
}
