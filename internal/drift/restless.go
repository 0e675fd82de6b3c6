package drift

// Plants are not all equally restless, beyond what their chroma says. How much one's readings of a season lie apart tells
// how restless it is, whether it drifts or not; one that is more so than others is given a wider covariance for its shifts
// too. None is given a narrower one: that its heads are alike today does not say that its years are.

// restlessDF is how many degrees of freedom the belief is worth that a plant is as restless as others: so many leave room
// for standard deviations that differ by a third. A guess of ours.
const restlessDF = 10

// mostRestless is how much wider, as a variance, a plant is taken at most: more is one odd day rather than a restless plant,
// and must not hide that the plant is to be watched.
const mostRestless = 2

// scatter is how far a plant's readings lie from the model beyond a shift for each season: a squared distance, and of how
// many degrees of freedom it is.
type scatter struct{ left, df float64 }

// restless is how many times as large the plant's covariances are taken.
func (s scatter) restless() float64 {
	return min(mostRestless, max(1, (restlessDF+s.left)/(restlessDF+s.df)))
}

// left is the squared distance of a plant's readings from the model, its own level taken off. It stands on unknownEffects.
func (w *workspace) left(b *block, sol *solution) float64 {
	sum := 0.0
	for i, o := range b.readings {
		e := o.y
		for _, t := range o.touches {
			for c, d := range t.along {
				effect := sol.effects[b.columns[t.at+c]]
				for axis := range 3 {
					e[axis] -= b.directions[axis][d] * effect
				}
			}
		}
		sum += e.dot(vector(w.r[3*i : 3*i+3]))
	}
	return sum
}
