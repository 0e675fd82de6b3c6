package forecast

import "corymb/internal/crop"

// fallBegan says whether the fall flush of the season asked about has begun.
func (made *madeUp) fallBegan() bool {
	day := made.last.spring.DaysTo(made.asOf)
	for _, curve := range made.last.curves[1] {
		if made.last.clock.of(day) > curve.begins() {
			return true
		}
	}
	return false
}

// truths draws what is to come as one who knows all parameters, each plant's own rate, the season and its curves would, and
// the weather and the flush so far, but not what is to come of them.
func (m *maker) truths(made *madeUp, weeks []crop.Date, n int) [][]float64 {
	asOf := made.last.spring.DaysTo(made.asOf)
	began := made.fallBegan()
	stems := make([][]float64, len(weeks))
	for w := range weeks {
		stems[w] = make([]float64, n)
	}
	weekOf := make([]int, madeDays)
	for day := asOf + 1; day < madeDays; day++ {
		weekOf[day] = weeks[0].DaysTo(made.last.spring.Add(day)) / 7
	}
	for draw := range n {
		s := *made.last
		s.grown = [2]map[crop.StockID][]float64{}
		for f := range flushes {
			s.grown[f] = map[crop.StockID][]float64{}
			for stock, grown := range made.last.grown[f] {
				s.grown[f][stock] = grown
			}
		}
		if s.clock != nil {
			s.warmth = append(s.warmth[:asOf+1:asOf+1], m.year()[asOf+1:]...)
			s.clock = made.warmth.clock(s.warmth)
		}
		if !began {
			s.fall = m.src.Float64() < m.fallChance
		}
		m.grow(&s, asOf+1)
		for b := range made.beds {
			bed := &made.beds[b]
			for day := bed.since; day < madeDays; day++ {
				opens := m.opens(&s, bed.planting.Stock, 0, day) + m.opens(&s, bed.planting.Stock, 1, day)
				if opens > 0 {
					stems[weekOf[max(day, asOf+1)]][draw] += float64(m.poisson(bed.rate * opens))
				}
			}
		}
	}
	return stems
}
