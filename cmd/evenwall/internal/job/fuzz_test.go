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
	f.Add([]byte(`job: 1
tank:
  shape:
    lobes: {spread: 300, lobe: {cone: {near: 0, far: 200, length: 300}}, crossover: {z: 90, diameter: 20}}
    necks: [{centre: "90 from the rear, 110 from the left, -20 down", diameter: 50}]
    tunnels: [{from: [20, -120, 40], to: [20, 120, 40], diameter: 20}]
  baffles: [{spout: {centre: [0, 0, 9], diameter: 4, length: 6}}, {plate: {centre: [0, 0, 5], normal: [1, 0, 0], width: 2, height: 1, holes: [{diameter: 30}]}}]
  prop: [{under: rear, height: 20}, {under: left, height: 5, across: 90}]
  seams: [belly]
  sludge: 10
bath: {air: trapped}
anodes:
  - {diameter: 8, top: [0, 0, 280], tip: [70, 0, 40], bend: {corner: [0, 0, 60], radius: 25}, collar: {at: 260, diameter: 90}, through: x}
  - {diameter: 8, top: [0, 0, 280], tip: [70, 0, 40], course: [[0, 0, 60]], least_bend: 9, guard: {outside: 32, inside: 26, open: 30 %, hole: 6}, spacers: [{at: 9, diameter: 40}]}
search: {tolerance: {position: 10, tilt: 3, depth: 5}}
`))
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
