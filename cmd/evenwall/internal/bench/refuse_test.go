package bench

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"evenwall/cmd/evenwall/internal/job"
)

// answered is a job that says all that a sheet needs, of a box of 300 x 200 x 150 mm.
const answered = `job: 1
title: box in the pump house
tank:
  shape: {box: {length: 300, width: 200, height: 150}}
  openings: [{name: filler, centre: [0, 0, 150], axis: [0, 0, 1], diameter: 60}]
anodes: [{diameter: 10, top: [0, 0, 200], tip: [0, 0, 40], bare: [[0, 90]]}]
`

func parsed(t *testing.T, lines ...string) *job.Job {
	t.Helper()
	text := answered
	for _, line := range lines {
		text += line + "\n"
	}
	j, err := job.Parse("x.yaml", []byte(text))
	require.NoError(t, err, text)
	return j
}

const (
	plainBath   = "bath: {soda: {form: anhydrous, dose: 4 g/L}}"
	plainSupply = "supply: {label: 12 V 6 A, kind: plain, isolated: yes}"
	plainClip   = "negative_at: foot"
)

// made returns the line materials with some answers changed.
func made(changes map[string]string) string {
	text := "materials: {"
	for _, k := range [][2]string{{"vessel", "tank"}, {"place", "bench"}, {"tank", "steel"}, {"coating", "none"}, {"seams", "welded"},
		{"held", "water"}, {"emptied", "yes"}, {"flushed", "yes"}, {"rod", "steel"}, {"fittings", "[]"}} {
		if v, ok := changes[k[0]]; ok {
			k[1] = v
		}
		text += k[0] + ": " + k[1] + ", "
	}
	return text[:len(text)-2] + "}"
}

func TestAJobThatSaysAllIsNeitherAskedNorRefused(t *testing.T) {
	j := parsed(t, plainBath, plainSupply, plainClip, made(nil))
	assert.Empty(t, Refusals(j))
	assert.Empty(t, Questions(j))
	j = parsed(t, plainBath, plainSupply, plainClip, made(map[string]string{"held": "fuel", "rod": "graphite", "tank": "terne", "seams": "soldered", "fittings": "[brass]"}))
	assert.Empty(t, Refusals(j), "warned of, not refused")
	assert.Empty(t, Questions(j))
}

func TestWhatIsRefused(t *testing.T) {
	of := func(key, value string) []string {
		return []string{plainBath, plainSupply, plainClip, made(map[string]string{key: value})}
	}
	for name, c := range map[string]struct {
		lines []string
		key   string
		says  string
	}{
		"on the vehicle":      {of("place", "vehicle"), "materials.place", "take the tank out"},
		"plumbed in":          {of("place", "plumbed in"), "materials.place", "take it out"},
		"pressure":            {of("vessel", "pressure"), "materials.vessel", "pressure"},
		"lpg":                 {of("vessel", "lpg"), "materials.vessel", "gas"},
		"air":                 {of("vessel", "air"), "materials.vessel", "air"},
		"hydraulic":           {of("vessel", "hydraulic"), "materials.vessel", "hydraulics"},
		"aircraft":            {of("vessel", "aircraft"), "materials.vessel", "aircraft"},
		"a person can enter":  {of("vessel", "walk-in"), "materials.vessel", "person"},
		"aluminium":           {of("tank", "aluminium"), "materials.tank", "dissolves"},
		"aluminum":            {of("tank", "aluminum"), "materials.tank", "dissolves"},
		"magnesium":           {of("tank", "magnesium"), "materials.tank", "dissolves"},
		"plastic":             {of("tank", "plastic"), "materials.tank", "no current"},
		"metal unknown":       {of("tank", "unknown"), "materials.tank", "magnet"},
		"lined":               {of("coating", "lining"), "materials.coating", "strip it"},
		"varnished":           {of("coating", "varnish"), "materials.coating", "strip it"},
		"contents unknown":    {of("held", "unknown"), "materials.held", "licensed person"},
		"not emptied":         {of("emptied", "no"), "materials.emptied", "not emptied"},
		"not flushed":         {of("flushed", "no"), "materials.flushed", "not flushed"},
		"stainless rod":       {of("rod", "stainless"), "materials.rod", "chromate"},
		"plated rod":          {of("rod", "plated"), "materials.rod", "plating"},
		"galvanised rod":      {of("rod", "galvanised"), "materials.rod", "zinc"},
		"chrome alloy rod":    {of("rod", "chrome alloy"), "materials.rod", "chromate"},
		"copper rod":          {of("rod", "copper"), "materials.rod", "copper"},
		"lead rod":            {of("rod", "lead"), "materials.rod", "lead"},
		"aluminium fitting":   {of("fittings", "[brass, aluminium]"), "materials.fittings[1]", "take the fitting out"},
		"table salt":          {[]string{"bath: {soda: {form: table salt, dose: 4 g/L}, conductivity: 0.6 S/m}", plainSupply, plainClip, made(nil)}, "bath.soda.form", "chlorine"},
		"acid":                {[]string{"bath: {soda: {form: acid, dose: 4 g/L}, conductivity: 0.6 S/m}", plainSupply, plainClip, made(nil)}, "bath.soda.form", "acid"},
		"bleach":              {[]string{"bath: {soda: {form: bleach, dose: 4 g/L}, conductivity: 0.6 S/m}", plainSupply, plainClip, made(nil)}, "bath.soda.form", "chlorine"},
		"lye, galvanised":     {[]string{"bath: {soda: {form: lye, dose: 4 g/L}}", plainSupply, plainClip, made(map[string]string{"tank": "galvanised"})}, "bath.soda.form", "galvanising"},
		"lye, zinc fitting":   {[]string{"bath: {soda: {form: lye, dose: 4 g/L}}", plainSupply, plainClip, made(map[string]string{"fittings": "[zinc]"})}, "materials.fittings[0]", "zinc"},
		"over 30 V":           {[]string{plainBath, "supply: {voltage: 36 V, kind: bench, isolated: yes}", plainClip, made(nil)}, "supply", "over 30 V"},
		"24 V plain, at rest": {[]string{plainBath, "supply: {label: 24 V 5 A, kind: plain, isolated: yes}", plainClip, made(nil)}, "supply", "34 V"},
		"not isolated":        {[]string{plainBath, "supply: {voltage: 12 V, kind: bench, isolated: no}", plainClip, made(nil)}, "supply.isolated", "mains"},
		"battery, no fuse":    {[]string{plainBath, "supply: {label: 12 V 60 A, kind: battery, isolated: yes}", plainClip, made(nil)}, "supply.fuse", "fuse"},
		"start setting":       {[]string{plainBath, "supply: {label: 12 V 6 A, kind: plain, switch: start, isolated: yes}", plainClip, made(nil)}, "supply.switch", "charging setting"},
		"clip on the lip":     {[]string{plainBath, plainSupply, "negative_at: lip of the neck", made(nil)}, "negative_at", "spark"},
	} {
		got := Refusals(parsed(t, c.lines...))
		if assert.Len(t, got, 1, name) {
			assert.Equal(t, c.key, got[0].Key, name)
			assert.Contains(t, got[0].Text(), c.says, name)
			assert.NotEmpty(t, got[0].Source, name)
		}
	}
}

func TestASealedFillerIsRefused(t *testing.T) {
	j := parsed(t, plainBath, plainSupply, plainClip, made(nil))
	j.Tank.Openings[0].Use = job.Plugged
	got := Refusals(j)
	require.Len(t, got, 1)
	assert.Equal(t, "tank.openings", got[0].Key)
	j.Tank.Openings = append(j.Tank.Openings, job.Opening{Name: "vent", Diameter: 0.02})
	got = Refusals(j)
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Reason, `hangs in the opening filler, which is closed`)
}

func TestATankThatAPersonCanGetIntoByItsSizes(t *testing.T) {
	j := parsed(t)
	assert.Empty(t, WalkInto(j, 5))
	j.Tank.Openings[0].Diameter = 0.45
	assert.Empty(t, WalkInto(j, 0.2), "a barrel")
	assert.Len(t, WalkInto(j, 5), 1)
}

// A bare job is asked for all that it does not say, each once.
func TestQuestions(t *testing.T) {
	var keys []string
	for _, q := range Questions(parsed(t)) {
		keys = append(keys, q.Key)
		assert.Regexp(t, regexp.MustCompile(`\?$`), q.Asks)
	}
	assert.Equal(t, []string{"materials.vessel", "materials.place", "materials.tank", "materials.coating", "materials.seams", "materials.held",
		"materials.emptied", "materials.flushed", "materials.rod", "negative_at", "supply.isolated", "supply.kind", "bath.soda"}, keys)
}

func TestWarnings(t *testing.T) {
	j := parsed(t, plainBath, plainSupply, plainClip, made(map[string]string{"tank": "terne", "seams": "soldered", "fittings": "[brass]"}))
	j.Materials.Pinholes = job.Yes
	got := Warnings(j)
	require.Len(t, got, 4)
	for i, want := range []string{"Terne sheet: its lead", "Soldered seams", "Pinholes known", "Left in: brass"} {
		assert.Contains(t, got[i], want)
	}
	assert.Contains(t, Caution(j), "goggles and gloves")
}

// The rod is 10 mm thick and leaves 15 mm of the narrower riser.
func TestTheRodIsHeldAgainstTheRiser(t *testing.T) {
	assert.Empty(t, Warnings(parsed(t, "riser: {height: 120, bore: 40}")))
	got := Warnings(parsed(t, "riser: {height: 120, bore: 25}"))
	require.Len(t, got, 1)
	assert.Contains(t, got[0], "bore of 25 mm leaves rod \"rod\" of 10 mm")
}
