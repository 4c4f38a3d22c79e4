package shape

import (
	"fmt"
	"math"
)

// validateBetween looks for tunnels that leave the outline between two sections that
// are each in order.
func (s Stack) validateBetween() error {
	for i := 1; i < len(s.Sections); i++ {
		a, b := s.Sections[i-1].outline(), s.Sections[i].outline()
		for k := 1; k < 8; k++ {
			if o := a.lerp(b, float64(k)/8); o.tunnel > 0 && o.crest-o.arch < o.foot()-1e-12 {
				return fmt.Errorf("between sections %d and %d the notch does not reach over the rounded floor: add a section there", i, i+1)
			}
		}
	}
	return nil
}

func (s Stack) validateBends() error {
	end := math.Inf(-1)
	for i, b := range s.Bends {
		if err := firstError(needPlace(fmt.Sprintf("bend %d: at", i+1), b.At), needSize(fmt.Sprintf("bend %d: radius", i+1), b.Radius)); err != nil {
			return err
		}
		if !(math.Abs(b.Angle) < math.Pi) {
			return fmt.Errorf("bend %d turns by %.4g degrees: give less than 180 either way", i+1, b.Angle*180/math.Pi)
		}
		if b.At < end {
			return fmt.Errorf("bend %d starts at %s, before the bend in front of it has ended at %s: move it on", i+1, mm(b.At), mm(end))
		}
		end = b.At + b.Length()
		if reach := s.reach(math.Copysign(1, b.Angle), b.At, end); reach >= b.Radius {
			return fmt.Errorf("bend %d has radius %s, the tank reaches %s to its inner side: give a larger radius", i+1, mm(b.Radius), mm(reach))
		}
	}
	return nil
}

// reach returns how far the tank reaches from the axis to the left (sign 1) or right
// (sign -1) between from and to, m.
func (s Stack) reach(sign, from, to float64) float64 {
	most := 0.0
	for _, at := range append(s.stations(from, to), from, to) {
		if o, ok := s.at(at); ok {
			most = math.Max(most, o.width/2+sign*o.side)
		}
	}
	return most
}
