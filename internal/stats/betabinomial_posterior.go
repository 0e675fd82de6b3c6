package stats

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// The grid on which a beta-binomial posterior is summed, and how deep below its top the tails are cut.
const (
	shareNodes = 61
	rhoNodes   = 41
	shareDepth = 18.0
	shareHugs  = 60
)

// BetaBinPosterior is the joint posterior of the mean shares of several groups of rows, on the logit
// scale, and of the rho that all of them have in common.
//
// Given rho the groups are independent, so each has a grid of its own beside a common line of rho, and
// the sum over all of them is exact but for the trapezoid rule (Trefethen and Weideman 2014, SIAM
// Review 56:385-458).
type BetaBinPosterior struct {
	rho    gridLine // of logit rho
	groups []shareGroup
	logRho []float64 // log posterior of logit rho at each node, up to a constant
}

// shareGroup is one group's rows and its part of the grid.
type shareGroup struct {
	hits, misses, of pile // of its rows
	prior            Normal
	mean             gridLine    // of logit mu
	logDens          [][]float64 // [rho][mean], prior included
	logSum           []float64   // [rho], the log of the integral over the mean
	weight           [][]float64 // [rho][mean], summing to 1
}

// NewBetaBinPosterior sums the posterior of groups of shares, of which some or all may be empty, under
// independent normal priors on each group's logit mean and on the logit of rho, all of them proper.
func NewBetaBinPosterior(groups [][]Share, means []Normal, rho Normal) (*BetaBinPosterior, error) {
	if len(means) != len(groups) {
		return nil, fmt.Errorf("posterior of shares: %d priors for %d groups: give one for each", len(means), len(groups))
	}
	for _, p := range append([]Normal{rho}, means...) {
		if !(p.SD > 0) || math.IsInf(p.SD, 1) || !(math.Abs(p.Mean) < math.Inf(1)) {
			return nil, fmt.Errorf("posterior of shares: prior normal(%g, %g) is not proper: give a finite mean and a finite standard deviation above 0", p.Mean, p.SD)
		}
	}
	b := &BetaBinPosterior{
		rho:    newGridLine(rho.Mean-7*rho.SD, rho.Mean+7*rho.SD, rhoNodes),
		groups: make([]shareGroup, len(groups)), logRho: make([]float64, rhoNodes),
	}
	for g, rows := range groups {
		if err := b.groups[g].gather(rows, means[g]); err != nil {
			return nil, fmt.Errorf("posterior of shares: group %d: %w", g, err)
		}
	}
	for range shareHugs {
		b.fill(rho)
		if b.hug() {
			b.weigh()
			return b, nil
		}
	}
	return nil, fmt.Errorf("posterior of shares: no grid covers it (%d groups)", len(groups))
}

// gather tallies the rows and starts from a line that holds both what the prior and what they say.
func (g *shareGroup) gather(rows []Share, prior Normal) error {
	for _, s := range rows {
		if err := s.check(); err != nil {
			return err
		}
		g.hits.add(s.Hits)
		g.misses.add(s.Of - s.Hits)
		g.of.add(s.Of)
	}
	seen := math.Log((g.hits.total + 0.5) / (g.misses.total + 0.5))
	g.prior = prior
	g.mean = newGridLine(min(prior.Mean-7*prior.SD, seen-2), max(prior.Mean+7*prior.SD, seen+2), shareNodes)
	g.logSum = make([]float64, rhoNodes)
	for range rhoNodes {
		g.logDens = append(g.logDens, make([]float64, shareNodes))
		g.weight = append(g.weight, make([]float64, shareNodes))
	}
	return nil
}

func (b *BetaBinPosterior) fill(prior Normal) {
	for j, w := range b.rho.nodes {
		b.logRho[j] = prior.logDensity(w)
	}
	for g := range b.groups {
		b.groups[g].fill(b.rho.nodes)
		for j, s := range b.groups[g].logSum {
			b.logRho[j] += s
		}
	}
}

// fill uses, with f = (1-rho)/rho = exp(-logit rho), that the likelihood at betaBinSurface.at is, but for
// the numbers of choices,
//
//	mu^Y (1-mu)^(N-Y) times the rises of the hits from mu f and of the misses from (1-mu) f
//	over those of the wholes from f
func (g *shareGroup) fill(logitRho []float64) {
	for j, w := range logitRho {
		f := math.Exp(-w)
		wholes := g.of.logRise(f)
		for i, z := range g.mean.nodes {
			g.logDens[j][i] = g.prior.logDensity(z) + g.hits.total*logLogistic(z) + g.misses.total*logLogistic(-z) +
				g.hits.logRise(Logistic(z)*f) + g.misses.logRise(Logistic(-z)*f) - wholes
		}
		g.logSum[j] = logSumExp(g.logDens[j])
	}
}

// hug moves every line to where its own posterior is, and tells whether none had to move.
func (b *BetaBinPosterior) hug() bool {
	right := true
	best := make([]float64, shareNodes)
	for g := range b.groups {
		group := &b.groups[g]
		top := math.Inf(-1)
		for i := range best {
			best[i] = math.Inf(-1)
			for j := range b.logRho {
				best[i] = max(best[i], b.logJoint(group, j, i))
			}
			top = max(top, best[i])
		}
		right = group.mean.hug(best, top, shareDepth) && right
	}
	top := math.Inf(-1)
	for _, d := range b.logRho {
		top = max(top, d)
	}
	return b.rho.hug(b.logRho, top, shareDepth) && right
}

// logJoint is the log posterior of one group's mean and rho, the other groups' means summed out.
func (b *BetaBinPosterior) logJoint(g *shareGroup, rho, mean int) float64 {
	return g.logDens[rho][mean] + b.logRho[rho] - g.logSum[rho]
}

func (b *BetaBinPosterior) weigh() {
	all := logSumExp(b.logRho)
	for g := range b.groups {
		group := &b.groups[g]
		for j, row := range group.weight {
			for i := range row {
				row[i] = math.Exp(b.logJoint(group, j, i) - all)
			}
		}
	}
}

func logSumExp(v []float64) float64 {
	top := math.Inf(-1)
	for _, x := range v {
		top = max(top, x)
	}
	sum := 0.0
	for _, x := range v {
		sum += math.Exp(x - top)
	}
	return top + math.Log(sum)
}

// Mean is the p-quantile of a group's mean share.
func (b *BetaBinPosterior) Mean(group int, p float64) float64 {
	g := b.groups[group]
	marginal := make([]float64, shareNodes)
	for _, row := range g.weight {
		for i, w := range row {
			marginal[i] += w
		}
	}
	return Logistic(g.mean.quantile(marginal, p))
}

// Rho is the p-quantile of the correlation of two units of one row.
func (b *BetaBinPosterior) Rho(p float64) float64 {
	density := make([]float64, rhoNodes)
	all := logSumExp(b.logRho)
	for j, d := range b.logRho {
		density[j] = math.Exp(d - all)
	}
	return Logistic(b.rho.quantile(density, p))
}

const (
	// leastNode drops nodes that together hold well under a hundredth of the posterior; the rest is
	// scaled up to 1.
	leastNode = 1e-5
	// forNewShare takes every second node of rho: those are still close enough for the trapezoid rule, and
	// beta distributions are dear. The mean's may not be thinned: given a small rho it can be narrow.
	forNewShare = 2
	// shareHalvings leave a share within half a ten-thousandth.
	shareHalvings = 14
)

// NewShare is the p-quantile of a new row's own share (its beta distribution, mean and rho from the
// posterior), to within half a ten-thousandth.
func (b *BetaBinPosterior) NewShare(group int, p float64) float64 {
	g := b.groups[group]
	var terms []betaTerm
	kept := 0.0
	for j := 0; j < rhoNodes; j += forNewShare {
		f := math.Exp(-b.rho.nodes[j])
		for i, w := range g.weight[j] {
			if w > leastNode {
				z := g.mean.nodes[i]
				terms = append(terms, betaTerm{w, Logistic(z) * f, Logistic(-z) * f})
				kept += w
			}
		}
	}
	lo, hi := 0.0, 1.0
	for range shareHalvings {
		mid := (lo + hi) / 2
		below := 0.0
		for _, t := range terms {
			below += t.weight * mathext.RegIncBeta(t.alpha, t.beta, mid)
		}
		if below < p*kept {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// betaTerm is one node's beta distribution.
type betaTerm struct {
	weight, alpha, beta float64
}
