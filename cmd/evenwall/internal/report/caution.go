package report

// Cautions returns what applies whenever the program tells someone what to do; it
// ends every such summary and promises nothing.
func Cautions() string {
	t := &table{}
	t.lines("before the switch", cautions)
	return t.String()
}

var cautions = []string{
	"Tank NEGATIVE, rod POSITIVE: read it with the meter before the switch. Reversed",
	"leads eat the tank.",
	"Hydrogen comes off with oxygen: flammable from the first minute, open or closed.",
	"Keep flame and spark away; make and break the clips away from it, supply off.",
	"A tank that held fuel is first dealt with by local rules and a licensed person.",
	"No stainless, galvanised or copper in the bath, and none on the rod.",
	"Local codes come before anything printed here.",
}

// tellsWhatToDo reports whether a command's answer is acted on at the bench.
func tellsWhatToDo(command string) bool { return command != "measure" }
