package fit

import (
	"fmt"
	"math"
)

// Proportion is a share found by counting, with its 95 % interval.
type Proportion struct {
	Hits, Of int
	// Share is Hits / Of; Low and High are the ends of the interval. All 0 to 1.
	Share, Low, High float64
}

// z95 is the place above which a standard normal number lies with a chance of
// 2.5 %.
const z95 = 1.959963984540054

// NewProportion returns the share of hits among a number of draws with its 95 %
// score interval. With p = hits/of and z = 1.96 its ends are
//
//	(p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n)
//
// It keeps its 95 % also near 0 and 1, where p ± z √(p(1-p)/n) shrinks to a point.
//
// Reference: E. B. Wilson, "Probable inference, the law of succession, and
// statistical inference", J. Amer. Stat. Assoc. 22, 1927, 209-212.
func NewProportion(hits, of int) (Proportion, error) {
	if of < 1 || hits < 0 || hits > of {
		return Proportion{}, fmt.Errorf("fit: a share of %d in %d: need 0 to n hits in n, n at least 1", hits, of)
	}
	n := float64(of)
	p := float64(hits) / n
	const zz = z95 * z95
	middle := p + zz/(2*n)
	half := z95 * math.Sqrt(p*(1-p)/n+zz/(4*n*n))
	share := Proportion{Hits: hits, Of: of, Share: p, Low: (middle - half) / (1 + zz/n), High: (middle + half) / (1 + zz/n)}
	if hits == 0 {
		share.Low = 0
	}
	if hits == of {
		share.High = 1
	}
	return share, nil
}
