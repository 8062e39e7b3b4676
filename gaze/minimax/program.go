package minimax

import "math"

// program is one linear program in n free variables,
//
//	maximize c·x  subject to  a_j·x <= b_j for every row j,
//
// with few variables and many rows. It is solved by the simplex method on the
// dual: a basis is a set of n rows met with equality, its multipliers stay
// non-negative, and the row that is violated most replaces a row of the basis
// until none is violated. The inverse of the basis (n × n) is all that is kept,
// so a pivot costs n² and pricing rows·n.
//
// A library's simplex is not used here because it works on the tableau of the
// whole program and allocates at every pivot; this one is called some dozens of
// times for each answer. The tests compare the two.
//
// Reference: G. B. Dantzig, Linear Programming and Extensions (1963), ch. 9
// (revised simplex method), from memory.
type program struct {
	n    int
	c    []float64
	a, b []float64 // rows of a, n entries each

	basis []int     // the n rows met with equality
	inv   []float64 // columns of the inverse of the basis matrix, n entries each
	y     []float64 // multipliers of the basis
	x     []float64 // the vertex
	w     []float64 // the entering row in terms of the basis
	in    []bool    // which rows are in the basis

	wanted []int // the basis to be inverted
}

const (
	// violated is how far a row may be exceeded and still count as met, relative
	// to the size of its bound: some 1e4 roundings.
	violated = 1e-11
	// pivotable is the least entry to pivot on.
	pivotable = 1e-10
)

// reset makes p an empty program in n variables, keeping its memory.
func (p *program) reset(n int) {
	p.n = n
	p.a, p.b = p.a[:0], p.b[:0]
	p.c = resized(p.c, n)
	p.y, p.x, p.w = resized(p.y, n), resized(p.x, n), resized(p.w, n)
	p.inv = resized(p.inv, n*n)
	if cap(p.basis) < n {
		p.basis = make([]int, n)
	}
	p.basis = p.basis[:n]
}

// resized returns s with length n and every entry zero.
func resized(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// row appends a row a·x <= b of zeros and returns its entries to be filled.
func (p *program) row(b float64) []float64 {
	k := len(p.a)
	for range p.n {
		p.a = append(p.a, 0)
	}
	p.b = append(p.b, b)
	return p.a[k : k+p.n]
}

// solve starts from the basis p.basis, whose multipliers must be non-negative,
// and reports whether it ended at the best vertex, which is then in p.x.
func (p *program) solve() bool {
	if cap(p.in) < len(p.b) {
		p.in = make([]bool, len(p.b))
	}
	p.in = p.in[:len(p.b)]
	clear(p.in)
	for _, j := range p.basis {
		p.in[j] = true
	}
	if !p.invert() {
		return false
	}
	careful := 10 * p.n // beyond it, the first candidate rather than the best: no cycling
	for round := range 60 * p.n {
		p.vertex()
		enter := p.price(round > careful)
		if enter < 0 {
			return true
		}
		if !p.pivot(enter, round > careful) {
			return false
		}
	}
	return false
}

// vertex computes the point at which the rows of the basis are met.
func (p *program) vertex() {
	clear(p.x)
	for k, j := range p.basis {
		b := p.b[j]
		if b == 0 {
			continue
		}
		col := p.inv[k*p.n : (k+1)*p.n]
		for i, v := range col {
			p.x[i] += v * b
		}
	}
}

// price returns the row violated most (or the first violated one), or -1.
func (p *program) price(first bool) int {
	enter, worst := -1, 0.0
	n, x := p.n, p.x
	for j, b := range p.b {
		if p.in[j] {
			continue
		}
		over := -b
		row := p.a[j*n:][:len(x)]
		for i, v := range row {
			over += v * x[i]
		}
		if over > worst+violated*(1+math.Abs(b)) {
			enter, worst = j, over
			if first {
				return enter
			}
		}
	}
	return enter
}

// pivot brings row enter into the basis in place of the row whose multiplier
// falls to zero first; it reports false when none does, which means that the
// rows contradict each other, or that their numbers are too large to tell.
func (p *program) pivot(enter int, first bool) bool {
	p.express(enter)
	leave, least := -1, math.Inf(1)
	for k, w := range p.w {
		ratio := p.y[k] / w
		if w <= pivotable || !(ratio < math.Inf(1)) {
			continue
		}
		switch {
		case ratio < least:
		case ratio > least, first && p.basis[k] > p.basis[leave], !first && w < p.w[leave]:
			continue
		}
		leave, least = k, ratio
	}
	if leave < 0 {
		return false
	}
	p.exchange(leave, enter, least)
	return true
}

// exchange replaces the basis row at place leave by row enter, whose multiplier
// becomes rise.
func (p *program) exchange(leave, enter int, rise float64) {
	p.replace(leave)
	for k, w := range p.w {
		p.y[k] = max(0, p.y[k]-rise*w)
	}
	p.y[leave] = rise
	p.in[p.basis[leave]], p.in[enter] = false, true
	p.basis[leave] = enter
}

// express fills p.w with row j in terms of the basis.
func (p *program) express(j int) {
	n := p.n
	row := p.a[j*n : (j+1)*n]
	for k := range n {
		w := 0.0
		for i, v := range p.inv[k*n : (k+1)*n] {
			w += v * row[i]
		}
		p.w[k] = w
	}
}

// replace updates the inverse for a basis whose row at place leave became the
// row that p.w expresses.
func (p *program) replace(leave int) {
	n := p.n
	out := p.inv[leave*n : (leave+1)*n]
	scale := 1 / p.w[leave]
	for i := range out {
		out[i] *= scale
	}
	for k, w := range p.w {
		if k == leave || w == 0 {
			continue
		}
		col := p.inv[k*n : (k+1)*n]
		for i, v := range out {
			col[i] -= w * v
		}
	}
}

// invert computes the inverse of the basis and its multipliers from scratch, by
// exchanging the unit rows for those of the basis one at a time.
func (p *program) invert() bool {
	n := p.n
	clear(p.inv)
	for k := range n {
		p.inv[k*n+k] = 1
		p.y[k] = 0
	}
	if !p.exchangeUnits() {
		return false
	}
	for k := range n {
		y := 0.0
		for i, v := range p.inv[k*n : (k+1)*n] {
			y += v * p.c[i]
		}
		p.y[k] = max(0, y)
	}
	return true
}

// exchangeUnits turns the unit inverse into that of the basis. Each step takes
// the largest pivot among the places still held by a unit row, and the basis is
// reordered to match.
func (p *program) exchangeUnits() bool {
	p.wanted = append(p.wanted[:0], p.basis...)
	for k := range p.basis {
		p.basis[k] = -1
	}
	for _, j := range p.wanted {
		p.express(j)
		leave := -1
		for k, w := range p.w {
			if p.basis[k] < 0 && (leave < 0 || math.Abs(w) > math.Abs(p.w[leave])) {
				leave = k
			}
		}
		if math.Abs(p.w[leave]) < pivotable {
			return false
		}
		p.replace(leave)
		p.basis[leave] = j
	}
	return true
}
