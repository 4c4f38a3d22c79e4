package vessel

import "fmt"

// LevelKind is the way a level is told. The zero value is ToBrim.
type LevelKind int

const (
	ToBrim   LevelKind = iota // full; Value does not matter
	ByHeight                  // Value in m above the lowest inside point
	BelowRim                  // Value in m below the brim
	ByVolume                  // Value in m³ of liquid, nothing hanging in it
)

// Level says how far the tank is filled. The zero value is to the brim.
type Level struct {
	Kind  LevelKind
	Value float64 // m or m³, see Kind
}

// Brim is how far a tank can be filled.
type Brim struct {
	Height  float64  // m above the lowest inside point
	Opening *Opening // whose rim it is
	Volume  float64  // m³ that the tank holds to there
}

// emptyShare is the share of the inside below which a brim counts as empty.
const emptyShare = 1e-3

// Brim returns the lowest point of the lowest open opening's rim as propped. It is an
// error when no opening is open, and when the lowest is at the bottom, so that next to
// nothing stays in.
func (v *Vessel) Brim() (Brim, error) {
	var brim Brim
	for i := range v.Openings {
		o := &v.Openings[i]
		if o.Use != Open {
			continue
		}
		_, p := o.rimLow(v.Up)
		if h := v.Height(p); brim.Opening == nil || h < brim.Height {
			brim.Height, brim.Opening = h, o
		}
	}
	if brim.Opening == nil {
		return brim, fmt.Errorf("no opening is open: name the one that the rod hangs in under openings, with use: open")
	}
	brim.Volume = v.inside.below(brim.Height)
	if brim.Volume < emptyShare*v.inside.whole {
		return brim, fmt.Errorf("opening %q is open at the bottom, %.1f mm above the lowest inside point, so the liquid runs out: plug it (use: plugged, or use: steel for a metal plug) or prop the tank otherwise",
			brim.Opening.Name, brim.Height*1000)
	}
	return brim, nil
}

// Resolve returns the height of the liquid's surface above the lowest inside point, m.
// A level above the brim, at the bottom, or a volume that the tank does not hold is an error.
func (v *Vessel) Resolve(level Level) (float64, error) {
	brim, err := v.Brim()
	if err != nil {
		return 0, err
	}
	var h float64
	switch level.Kind {
	case ToBrim:
		return brim.Height, nil
	case ByVolume:
		if level.Value > brim.Volume*(1+1e-9) {
			return 0, fmt.Errorf("%.2f L is more than the %.2f L that the tank holds to the rim of opening %q: give less, or prop the tank otherwise",
				level.Value*1000, brim.Volume*1000, brim.Opening.Name)
		}
		if level.Value > 0 {
			return v.inside.heightOf(min(level.Value, brim.Volume)), nil
		}
		return 0, fmt.Errorf("a level of %.2f L leaves the tank empty: give more than 0", level.Value*1000)
	case BelowRim:
		h = brim.Height - level.Value
	default:
		h = level.Value
	}
	if h > brim.Height*(1+1e-9) {
		return 0, fmt.Errorf("the level %.1f mm is above the brim at %.1f mm (lowest point of the rim of opening %q): lower it, or prop the tank otherwise",
			h*1000, brim.Height*1000, brim.Opening.Name)
	}
	if !(h > 0) {
		return 0, fmt.Errorf("the level %.1f mm is not above the lowest inside point: give a height between 0 and the brim at %.1f mm", h*1000, brim.Height*1000)
	}
	return h, nil
}
