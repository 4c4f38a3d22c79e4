package openings

import (
	"math"
	"slices"

	"evenwall/geometry"
)

// circle is the best circle through a closed loop of points.
type circle struct {
	centre, normal geometry.Vec // normal: the loop runs anticlockwise about it
	radius         float64      // m
	rms            float64      // distance of the points used from the circle, m
	kept           float64      // share of the loop's length used
	gap            float64      // widest angle of the circle without a point used, degrees
}

// fitCircle fits a circle to the loop by least squares, each point weighted by its part
// of the loop's length, and once more without the points that stray by over 2.5 times
// the first rms (a torn rim's loose ends). ok is false for loops without an area.
func fitCircle(points []geometry.Vec) (c circle, ok bool) {
	c.normal = loopArea(points).Unit()
	if c.normal == (geometry.Vec{}) {
		return c, false
	}
	weights := lengthShares(points)
	for range 2 {
		if !c.solve(points, weights) {
			return c, false
		}
		for i, p := range points {
			if c.stray(p) > 2.5*c.rms {
				weights[i] = 0
			}
		}
	}
	for _, w := range weights {
		c.kept += w
	}
	c.gap = c.widestGap(points, weights)
	return c, true
}

// loopArea returns the loop's area vector, m².
func loopArea(points []geometry.Vec) geometry.Vec {
	var sum geometry.Vec
	for i := range points {
		a, b := points[i].Sub(points[0]), points[(i+1)%len(points)].Sub(points[0])
		sum = sum.Add(a.Cross(b))
	}
	return sum.Scale(0.5)
}

// lengthShares returns for each point half of its two sides' share of the loop.
func lengthShares(points []geometry.Vec) []float64 {
	shares, total := make([]float64, len(points)), 0.0
	for i, p := range points {
		k := (i + 1) % len(points)
		side := p.Dist(points[k])
		shares[i] += side / 2
		shares[k] += side / 2
		total += side
	}
	for i := range shares {
		shares[i] /= total
	}
	return shares
}

// solve fits centre and radius in the plane square to the normal through the points'
// mean: the circle x² + y² = 2ax + 2by + c that is nearest in the least-squares sense
// (Kåsa 1976).
func (c *circle) solve(points []geometry.Vec, weights []float64) bool {
	var mean geometry.Vec
	total := 0.0
	for i, p := range points {
		mean = mean.AddScaled(p, weights[i])
		total += weights[i]
	}
	mean = mean.Scale(1 / total)
	u, v := c.normal.Perpendicular()
	var xx, xy, yy, xr, yr, rr float64
	for i, p := range points {
		d, w := p.Sub(mean), weights[i]/total
		x, y := d.Dot(u), d.Dot(v)
		r := x*x + y*y
		xx, xy, yy = xx+w*x*x, xy+w*x*y, yy+w*y*y
		xr, yr, rr = xr+w*x*r, yr+w*y*r, rr+w*r
	}
	det := xx*yy - xy*xy
	if det <= 1e-6*rr*rr {
		return false // the points lie on a line
	}
	a, b := (xr*yy-yr*xy)/(2*det), (yr*xx-xr*xy)/(2*det)
	c.centre = mean.AddScaled(u, a).AddScaled(v, b)
	c.radius = math.Sqrt(rr + a*a + b*b)
	sum := 0.0
	for i, p := range points {
		sum += weights[i] / total * sq(c.stray(p))
	}
	c.rms = math.Sqrt(sum)
	return true
}

// stray returns the distance of p from the circle, m.
func (c *circle) stray(p geometry.Vec) float64 {
	d := p.Sub(c.centre)
	off := d.Dot(c.normal)
	return math.Hypot(off, d.AddScaled(c.normal, -off).Norm()-c.radius)
}

func (c *circle) widestGap(points []geometry.Vec, weights []float64) float64 {
	u, v := c.normal.Perpendicular()
	var angles []float64
	for i, p := range points {
		if weights[i] > 0 {
			d := p.Sub(c.centre)
			angles = append(angles, math.Atan2(d.Dot(v), d.Dot(u)))
		}
	}
	slices.Sort(angles)
	widest := angles[0] + 2*math.Pi - angles[len(angles)-1]
	for i := 1; i < len(angles); i++ {
		widest = math.Max(widest, angles[i]-angles[i-1])
	}
	return widest * 180 / math.Pi
}

// isRound reports whether the loop is a circle of an opening's size, straying by at
// most the given share of its radius.
func (c *circle) isRound(stray float64) bool {
	return fits(2*c.radius) && c.rms <= stray*c.radius && c.kept >= 0.75 && c.gap <= widestGap
}

func sq(x float64) float64 { return x * x }
