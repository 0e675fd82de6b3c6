package stats

import "gonum.org/v1/gonum/mat"

// Derivatives returns the log-likelihood at x about the centres as they stand, and overwrites grad and
// the upper triangle of hess with its derivatives. Those of a group follow from its nodes' by Louis
// (1982, Journal of the Royal Statistical Society B 44:226-233): with nodes weighted by their part of
// the integral,
//
//	gradient of log L = E[g],   Hessian of log L = E[H] + Cov[g].
func (l *Likelihood) Derivatives(x, grad []float64, hess *mat.SymDense) float64 {
	l.inShards(x, (*worker).deriveAll)
	clear(grad)
	hess.Zero()
	value := 0.0
	for i := range l.shards {
		s := &l.shards[i]
		value += s.value
		for j, v := range s.grad {
			grad[j] += v
		}
		hess.AddSym(hess, s.hess)
	}
	return value
}

func (w *worker) deriveAll(s *shard, from, to int) {
	s.value = 0
	clear(s.grad)
	s.hess.Zero()
	for g := from; g < to; g++ {
		s.value += w.group(g)
		w.derive(g)
		w.addTo(s, g)
	}
}

// derive leaves the weighted mean of the group's gradient and its Hessian, by touched parameters, after
// group has left the weights of the nodes.
func (w *worker) derive(g int) {
	m := w.l.model
	touched := w.l.touched[g]
	t := len(touched)
	for i, p := range touched {
		w.place[p] = int32(i)
	}
	clear(w.grads[:t*len(w.logs)])
	clear(w.hess[:t*t])
	weights := w.logs
	if len(weights) == 1 {
		weights[0] = 1
	}
	for c := m.begin(g); c < m.Groups[g].End; c++ {
		w.deriveCell(g, c, t)
	}
	clear(w.mean[:t])
	for k, weight := range weights {
		for i, v := range w.grads[k*t : (k+1)*t] {
			w.mean[i] += weight * v
		}
	}
	for k, weight := range weights {
		row := w.grads[k*t : (k+1)*t]
		for i := range row {
			row[i] -= w.mean[i]
		}
		for i, vi := range row {
			for j := i; j < t; j++ {
				w.hess[i*t+j] += weight * vi * row[j]
			}
		}
	}
}

// deriveCell adds one cell's gradient at every node, and its Hessian averaged over the nodes: by eta, by
// the auxiliary parameters, and by those of the effect, of which eta holds scale sd z.
func (w *worker) deriveCell(g, c, t int) {
	m := w.l.model
	terms, aux := m.Rows[m.Cells[c].Row].Terms, w.family.Aux(c)
	sd, base := w.sd*m.Groups[g].Scale, w.eta[m.Cells[c].Row]
	effect := m.Effect.parameters()
	var mean Derivatives         // averaged Hessian by eta and aux
	var bySD [1 + maxAux]float64 // by the log sd and: eta, aux
	var slope, bend float64      // by the log sd alone
	d := &w.cell
	for k, weight := range w.logs {
		part := 0.0
		if len(effect) > 0 {
			part = sd * (w.l.centre[g] + w.l.spread[g]*w.l.rule.at[k])
		}
		w.family.Derivatives(c, base+part, d)
		row := w.grads[k*t : (k+1)*t]
		for _, term := range terms {
			row[w.place[term.Parameter]] += d.Grad[0] * term.Value
		}
		for i, a := range aux {
			row[w.place[a]] += d.Grad[1+i]
		}
		for i, p := range effect {
			row[w.place[p]] += d.Grad[0] * part * w.slope[i]
		}
		for i := 0; i <= len(aux); i++ {
			for j := i; j <= len(aux); j++ {
				mean.Hess[i][j] += weight * d.Hess[i][j]
			}
			bySD[i] += weight * d.Hess[0][i] * part
		}
		slope += weight * d.Grad[0] * part
		bend += weight * (d.Hess[0][0]*part*part + d.Grad[0]*part)
	}
	w.addHess(terms, aux, &mean, t)
	w.addEffectHess(terms, aux, effect, &bySD, t)
	w.addOwnHess(effect, slope, bend, t)
}

func (w *worker) addHess(terms []Coef, aux []int, mean *Derivatives, t int) {
	for i, a := range terms {
		at := w.place[a.Parameter]
		w.hess[int(at)*t+int(at)] += mean.Hess[0][0] * a.Value * a.Value
		for _, b := range terms[i+1:] {
			w.addPair(at, w.place[b.Parameter], mean.Hess[0][0]*a.Value*b.Value, t)
		}
		for j, x := range aux {
			w.addPair(at, w.place[x], mean.Hess[0][1+j]*a.Value, t)
		}
	}
	for i, a := range aux {
		at := w.place[a]
		w.hess[int(at)*t+int(at)] += mean.Hess[1+i][1+i]
		for j := i + 1; j < len(aux); j++ {
			w.addPair(at, w.place[aux[j]], mean.Hess[1+i][1+j], t)
		}
	}
}

func (w *worker) addEffectHess(terms []Coef, aux, effect []int, bySD *[1 + maxAux]float64, t int) {
	for i, p := range effect {
		at, slope := w.place[p], w.slope[i]
		for _, a := range terms {
			w.addPair(w.place[a.Parameter], at, bySD[0]*slope*a.Value, t)
		}
		for j, a := range aux {
			w.addPair(w.place[a], at, bySD[1+j]*slope, t)
		}
	}
}

// addOwnHess adds the second derivatives by the effect's parameters, from those by its log sd.
func (w *worker) addOwnHess(effect []int, slope, bend float64, t int) {
	for i, p := range effect {
		at := int(w.place[p])
		w.hess[at*t+at] += bend * w.slope[i] * w.slope[i]
		if i == 1 {
			w.addPair(w.place[effect[0]], w.place[p], bend*w.slope[0]*w.slope[1], t)
			w.hess[at*t+at] += slope * w.effectAt.bend
		}
	}
}

// addPair adds a mixed second derivative. Where both ways of depending are on one parameter, both orders
// fall on the diagonal.
func (w *worker) addPair(i, j int32, v float64, t int) {
	switch {
	case i == j:
		w.hess[int(i)*t+int(i)] += 2 * v
	case i < j:
		w.hess[int(i)*t+int(j)] += v
	default:
		w.hess[int(j)*t+int(i)] += v
	}
}

func (w *worker) addTo(s *shard, g int) {
	touched := w.l.touched[g]
	t := len(touched)
	for i, p := range touched {
		s.grad[p] += w.mean[i]
		for j := i; j < t; j++ {
			symAdd(s.hess, int(p), int(touched[j]), w.hess[i*t+j])
		}
	}
}
