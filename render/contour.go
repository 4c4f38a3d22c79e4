package render

import "math"

// samples is a field on a regular grid over a picture: node i, k at origin + step·(i, k),
// value at k·w + i, NaN where there is none.
type samples struct {
	w, h   int
	origin point
	step   float64
	value  []float64
}

// at returns the place of node i, k.
func (s *samples) at(i, k int) point {
	return point{s.origin.x + float64(i)*s.step, s.origin.y + float64(k)*s.step}
}

// extend fills nodes without a value from the neighbours that have one, layer by layer, so
// that the field reaches the wall that lies between nodes. Each takes the mean of what its
// neighbours on the eight sides run on to in a straight line.
func (s *samples) extend(layers int) {
	for range layers {
		next := append([]float64(nil), s.value...)
		for k := range s.h {
			for i := range s.w {
				if math.IsNaN(s.value[k*s.w+i]) {
					next[k*s.w+i] = s.runOn(i, k)
				}
			}
		}
		s.value = next
	}
}

// runOn returns the mean of the neighbours' values, each carried on in a straight line
// where the node beyond it is known.
func (s *samples) runOn(i, k int) float64 {
	sum, count := 0.0, 0.0
	for dk := -1; dk <= 1; dk++ {
		for di := -1; di <= 1; di++ {
			near, far := s.get(i+di, k+dk), s.get(i+2*di, k+2*dk)
			if math.IsNaN(near) {
				continue
			}
			if !math.IsNaN(far) {
				near = 2*near - far
			}
			sum, count = sum+near, count+1
		}
	}
	if count == 0 {
		return math.NaN()
	}
	return sum / count
}

func (s *samples) get(i, k int) float64 {
	if i < 0 || k < 0 || i >= s.w || k >= s.h {
		return math.NaN()
	}
	return s.value[k*s.w+i]
}

// interpolate returns the bilinear value at a place, NaN next to a node without one.
func (s *samples) interpolate(p point) float64 {
	x, y := (p.x-s.origin.x)/s.step, (p.y-s.origin.y)/s.step
	i, k := int(math.Floor(x)), int(math.Floor(y))
	fx, fy := x-float64(i), y-float64(k)
	return (s.get(i, k)*(1-fx)+s.get(i+1, k)*fx)*(1-fy) + (s.get(i, k+1)*(1-fx)+s.get(i+1, k+1)*fx)*fy
}

// ends returns the least and greatest value; ok is false without any.
func (s *samples) ends() (least, most float64, ok bool) {
	least, most = math.Inf(1), math.Inf(-1)
	for _, v := range s.value {
		if !math.IsNaN(v) {
			least, most, ok = min(least, v), max(most, v), true
		}
	}
	return least, most, ok
}

// crossed names the grid edge that a contour crosses: from node i, k to the right, or down.
type crossed struct {
	i, k int
	down bool
}

// contour returns the lines along which the field has the level, joined as far as they go.
// Marching squares: each square of four known nodes is cut along straight lines between
// the crossings on its sides; a saddle is parted by the mean of its corners.
// Lorensen and Cline (1987) in two dimensions.
func (s *samples) contour(level float64) [][]point {
	joined := newJoints[crossed]()
	for k := range s.h - 1 {
		for i := range s.w - 1 {
			s.square(i, k, level, joined)
		}
	}
	var out [][]point
	for _, way := range joined.ways() {
		line := make([]point, len(way))
		for n, e := range way {
			line[n] = s.crossing(e, level)
		}
		out = append(out, line)
	}
	return out
}

// square adds the level's lines across one square.
func (s *samples) square(i, k int, level float64, out *joints[crossed]) {
	a, b, c, d := s.get(i, k), s.get(i+1, k), s.get(i+1, k+1), s.get(i, k+1)
	if math.IsNaN(a + b + c + d) {
		return
	}
	corners := [4]bool{a > level, b > level, c > level, d > level}
	sides := [4]crossed{{i, k, false}, {i + 1, k, true}, {i, k + 1, false}, {i, k, true}}
	var cut []int
	for n := range 4 {
		if corners[n] != corners[(n+1)%4] {
			cut = append(cut, n)
		}
	}
	switch len(cut) {
	case 2:
		out.join(sides[cut[0]], sides[cut[1]])
	case 4:
		if corners[0] == ((a+b+c+d)/4 > level) {
			out.join(sides[0], sides[1])
			out.join(sides[2], sides[3])
		} else {
			out.join(sides[3], sides[0])
			out.join(sides[1], sides[2])
		}
	}
}

// crossing returns where the level lies on a grid edge.
func (s *samples) crossing(e crossed, level float64) point {
	i, k := e.i+1, e.k
	if e.down {
		i, k = e.i, e.k+1
	}
	a, b := s.get(e.i, e.k), s.get(i, k)
	return s.at(e.i, e.k).lerp(s.at(i, k), (level-a)/(b-a))
}
