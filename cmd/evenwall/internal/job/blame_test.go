package job

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The lines are counted in the text below.
func TestBlameFindsTheLine(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.yaml")
	require.NoError(t, os.WriteFile(path, []byte("job: 1\ntank:\n  shape: {box: {length: 300, width: 200, height: 150}}\nbath:\n  level: 200\nanodes:\n  - name: a\n  - {name: b, tip: [0, 0, 0]}\n"), 0o644))
	j := &Job{Path: path}
	for key, want := range map[string]string{
		"bath.level":        "x.yaml:5: bath.level: wrong",
		"bath.conductivity": "x.yaml:5: bath.conductivity: wrong",
		"anodes[1].tip":     "x.yaml:8: anodes[1].tip: wrong",
		"anodes[1].top":     "x.yaml:8: anodes[1].top: wrong",
		"supply.voltage":    "x.yaml: supply.voltage: wrong",
		"":                  "x.yaml: wrong",
	} {
		assert.EqualError(t, j.Blame(Fault{Key: key, Text: "wrong"}), want)
	}
	assert.NoError(t, j.Blame())
	assert.EqualError(t, (&Job{}).Blame(Fault{Key: "bath", Text: "wrong"}), "job: bath: wrong")
}
