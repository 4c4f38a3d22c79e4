package job

import (
	"errors"
	"testing"
)

// Whatever the bytes: a job that writes and reads back, or faults; never a panic.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{sprayer, shortest, "", withKeys("bath: {soda: {dose: 1 tbsp/gal}, temperature: 15 degC}\nsupply: {label: 12 V 6 A, kind: plain, leads: {size: 14 AWG, length: 2 m}, lamp: {volts: 12 V, watts: 55 W}}\nmaterials: {tank: steel, loose: [chain]}\nriser: {height: 1, bore: 2}\n"), "job: 1\ntank: {shape: {drum: {diameter: 300, length: 1}}}\n", "a: [1", "? x\n", "tank: *x\n", "- &a [*a]\n"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		j, err := Parse("x.yaml", text)
		if err != nil {
			var faults *FaultsError
			if !errors.As(err, &faults) || len(faults.Faults) == 0 || err.Error() == "" {
				t.Fatalf("an error without faults: %v", err)
			}
			return
		}
		if _, err := Parse("x.yaml", j.YAML(".")); err != nil {
			t.Fatalf("written but not read back: %v\n%s", err, j.YAML("."))
		}
	})
}
