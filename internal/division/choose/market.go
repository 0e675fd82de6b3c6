package choose

// Market is where the stems of one colour class of one season go.
type Market struct {
	Weight float64 // of a cent earned there
	Weeks  []Week
}

// Week takes a share of what comes to its market.
type Week struct {
	Share float64
	// Takers come in order of their prices, the dearest first.
	Takers []Taker
}

// Taker pays a price for a stem of a quality or better, for so many of them.
type Taker struct {
	Price float64
	Least int // quality, from 0
	Most  float64
}

// revenue is the most that a supply brings. Takers of a quality or better form a chain, so to serve them in order of their
// prices, each as far as it leaves what dearer ones have, is best (the greedy of a polymatroid: Edmonds 1970).
//
// A plan spends most of its time here, so that give is written out for it: what is left stays in registers.
func (m *Market) revenue(supply *Qualities) float64 {
	sum := 0.0
	for w := range m.Weeks {
		week := &m.Weeks[w]
		all := week.atLeast(supply)
		left0, left1, left2, left3 := all[0], all[1], all[2], all[3]
		for t := range week.Takers {
			if left0 <= 0 { // all is sold
				break
			}
			taker := &week.Takers[t]
			n := taker.Most
			if left0 < n {
				n = left0
			}
			if taker.Least >= 1 {
				if left1 < n {
					n = left1
				}
				if taker.Least >= 2 {
					if left2 < n {
						n = left2
					}
					if taker.Least >= 3 {
						if left3 < n {
							n = left3
						}
						left3 -= n
					}
					left2 -= n
				}
				left1 -= n
			}
			left0 -= n
			sum += taker.Price * n
		}
	}
	return sum
}

// atLeast is by quality how much of it or better comes to a week.
func (w *Week) atLeast(supply *Qualities) (left Qualities) {
	left[3] = supply[3] * w.Share
	left[2] = left[3] + supply[2]*w.Share
	left[1] = left[2] + supply[1]*w.Share
	left[0] = left[1] + supply[0]*w.Share
	return left
}

// give serves a taker.
func (left *Qualities) give(t *Taker) float64 {
	n := t.Most
	of := left[:t.Least+1]
	for _, here := range of {
		if here < n {
			n = here
		}
	}
	for q := range of {
		of[q] -= n
	}
	return n
}

// worth adds what one more stem of each quality would bring, and returns what the tangent at the supply has for no supply
// at all: revenue at any other supply is at most that and each of its stems at these prices.
//
// It is the dual of serving takers: with prices that rise with quality, none of a taker's stems brings more than its price
// above that of its least quality, and only so many do.
func (m *Market) worth(supply *Qualities, prices *Qualities) (constant float64) {
	const none = 1e-9 // stems
	for w := range m.Weeks {
		week := &m.Weeks[w]
		left := week.atLeast(supply)
		var price Qualities
		open := len(price) // prices of this quality and better are found
		for t := range week.Takers {
			taker := &week.Takers[t]
			if left.give(taker) >= taker.Most {
				continue
			}
			// It would take more, could it have some of every quality that has run out for it.
			scarce := 0
			for q := 0; q <= taker.Least; q++ {
				if left[q] <= none {
					scarce = q
				}
			}
			for q := scarce; q < open; q++ {
				price[q] = taker.Price
			}
			if open = min(open, scarce); open == 0 {
				break
			}
		}
		for t := range week.Takers {
			// One that is not full brings nothing above the price that it set.
			if taker := &week.Takers[t]; taker.Price > price[taker.Least] {
				constant += taker.Most * (taker.Price - price[taker.Least])
			}
		}
		for q := range price {
			prices[q] += week.Share * price[q]
		}
	}
	return constant
}

// Revenue is the most that a supply brings; what one more stem of each quality would bring is added to prices.
func (m *Market) Revenue(supply *Qualities, prices *Qualities) float64 {
	var own Qualities
	sum := m.worth(supply, &own) // the tangent touches revenue at the supply itself
	for q, price := range own {
		sum += supply[q] * price
		prices[q] += price
	}
	return sum
}
