package plan

import (
	"os"
	"testing"
)

// isLong reports whether the environment variable EVENWALL_LONG asks for sweeps that take minutes.
func isLong() bool { return os.Getenv("EVENWALL_LONG") != "" }

// longOnly skips a test otherwise.
func longOnly(t *testing.T) {
	if !isLong() {
		t.Skip("takes long: set EVENWALL_LONG=1")
	}
}
