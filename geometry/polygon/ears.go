package polygon

// ears is a ring of points from which corners ("ears") are cut one by one.
type ears struct {
	points     []Point
	vertex     []int // point number of each ring place
	prev, next []int // neighbours of each ring place
	grade      []float64
	left       int // places still in the ring
}

func newEars(points []Point, ring []int) *ears {
	n := len(ring)
	e := &ears{points: points, vertex: ring, left: n,
		prev: make([]int, n), next: make([]int, n), grade: make([]float64, n)}
	for i := range n {
		e.prev[i], e.next[i] = (i+n-1)%n, (i+1)%n
	}
	for i := range n {
		e.grade[i] = e.gradeOf(i)
	}
	return e
}

// cutAll cuts the ring into triangles. Where nothing proper is left (points on one
// line), it still uses every point, so that the result joins its neighbours.
func (e *ears) cutAll() [][3]int {
	var out [][3]int
	for at := 0; e.left >= 3; {
		ear := e.best(at)
		if e.grade[ear] <= 0 {
			e.regrade(at)
			ear = e.best(at)
		}
		p, n := e.prev[ear], e.next[ear]
		out = append(out, [3]int{e.vertex[p], e.vertex[ear], e.vertex[n]})
		e.next[p], e.prev[n] = n, p
		e.left--
		e.grade[p], e.grade[n] = e.gradeOf(p), e.gradeOf(n)
		at = n
	}
	return out
}

// best returns the place with the highest grade among those still in the ring of at.
func (e *ears) best(at int) int {
	best := at
	for i, k := e.next[at], 1; k < e.left; i, k = e.next[i], k+1 {
		if e.grade[i] > e.grade[best] {
			best = i
		}
	}
	return best
}

// regrade grades every remaining place anew: a cut may have freed ears elsewhere.
func (e *ears) regrade(at int) {
	for i, k := at, 0; k < e.left; i, k = e.next[i], k+1 {
		e.grade[i] = e.gradeOf(i)
	}
}

// gradeOf returns the quality of the ear at place i, or 0 when it is none: the corner
// is not convex, or another point of the ring lies in it.
func (e *ears) gradeOf(i int) float64 {
	a, b, c := e.corner(e.prev[i]), e.corner(i), e.corner(e.next[i])
	grade := quality(a, b, c)
	if grade <= 1e-9 {
		return 0
	}
	for k := e.next[e.next[i]]; k != e.prev[i]; k = e.next[k] {
		p := e.corner(k)
		if p != a && p != b && p != c && cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0 {
			return 0
		}
	}
	return grade
}

func (e *ears) corner(i int) Point { return e.points[e.vertex[i]] }
