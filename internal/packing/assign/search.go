package assign

import (
	"container/heap"
	"context"
	"runtime"
	"sync"
)

// Result is the best that was found.
type Result struct {
	Lots   []int64 // nil where not even what lines ask for at least can be had
	Worth  int64
	Bound  int64 // nothing is worth more
	Proven bool  // Lots are worth most
	Nodes  int64 // parts of the search that were looked at
}

// Options tell how to search.
type Options struct {
	Known []int64 // whole lots to better, if they fit
	Alone bool    // on one processor
}

// together is how many nodes are looked at at the same time. It is the same on every machine, so that the same plan
// comes out.
const together = 4

// Solve finds the whole lots that are worth most. It stops early, with the best so far, when ctx ends. The same problem
// has the same result unless that happened.
func Solve(ctx context.Context, p Problem, options Options) Result {
	n := newNetwork(p)
	least, most := n.least(), n.most()
	for l := range least {
		if least[l] > most[l] {
			return Result{Proven: true}
		}
	}
	s := &search{network: n, ctx: ctx}
	first := newBuilder(n)
	if !first.build(least, most, least) {
		return Result{Proven: true}
	}
	s.best = append([]int64(nil), first.lots...)
	s.worth = n.worth(s.best)
	if options.Known != nil && newRouting(n).fits(options.Known, least, most) {
		if worth := n.worth(options.Known); worth > s.worth {
			s.best, s.worth = append([]int64(nil), options.Known...), worth
		}
	} else if worth := first.better(least, most, func() bool { return ctx.Err() != nil }); worth > s.worth {
		s.best, s.worth = append([]int64(nil), first.lots...), worth
	}
	n.below = n.dominance()
	relaxed := newRouting(n)
	relaxed.relax(least, most)
	root := &node{least: least, most: most, bound: n.whole(relaxed.value())}
	return s.run(root, options.Alone)
}

// fits says whether whole lots are within bounds and can be routed.
func (r *routing) fits(lots, least, most []int64) bool {
	for l := range r.lines {
		if lots[l] < least[l] || lots[l] > most[l] {
			return false
		}
	}
	return r.hold(lots) == nil
}

type search struct {
	*network
	ctx   context.Context
	best  []int64
	worth int64
	open  nodes
	seen  int64
	made  int64
}

// run looks at the most promising nodes, a few at a time, until none is left that could be better.
func (s *search) run(root *node, alone bool) Result {
	stop := func() bool { return s.ctx.Err() != nil }
	workers := min(together, runtime.GOMAXPROCS(0))
	if alone {
		workers = 1
	}
	var examiners []*examiner
	for range workers {
		examiners = append(examiners, newExaminer(s.network, stop))
	}
	s.open = nodes{root}
	for s.open.Len() > 0 && !stop() {
		var batch []*node
		for len(batch) < together && s.open.Len() > 0 {
			at := heap.Pop(&s.open).(*node)
			if at.bound <= s.worth {
				continue
			}
			batch = append(batch, at)
		}
		found := s.lookAt(batch, examiners)
		for i, f := range found {
			if f.lots != nil && f.worth > s.worth {
				s.best, s.worth = f.lots, f.worth
			}
			if f.broke {
				heap.Push(&s.open, batch[i])
			}
			for _, child := range f.children {
				s.made++
				child.number = s.made
				heap.Push(&s.open, child)
			}
		}
		s.seen += int64(len(batch))
	}
	result := Result{Lots: s.best, Worth: s.worth, Bound: s.worth, Proven: true, Nodes: s.seen}
	for _, at := range s.open {
		if at.bound > result.Bound {
			result.Bound, result.Proven = at.bound, false
		}
	}
	return result
}

// lookAt has the examiners look at a batch. What each is told is known does not depend on which is quicker.
func (s *search) lookAt(batch []*node, examiners []*examiner) []examined {
	found := make([]examined, len(batch))
	if len(examiners) == 1 || len(batch) == 1 {
		for i, at := range batch {
			found[i] = examiners[0].look(at, s.worth)
		}
		return found
	}
	var wait sync.WaitGroup
	next := make(chan int, len(batch))
	for i := range batch {
		next <- i
	}
	close(next)
	for _, e := range examiners {
		wait.Go(func() {
			for i := range next {
				found[i] = e.look(batch[i], s.worth)
			}
		})
	}
	wait.Wait()
	return found
}

// nodes is a heap: the most promising node first, of equals the deepest, then the oldest.
type nodes []*node

func (h nodes) Len() int { return len(h) }
func (h nodes) Less(i, j int) bool {
	a, b := h[i], h[j]
	switch {
	case a.bound != b.bound:
		return a.bound > b.bound
	case a.depth != b.depth:
		return a.depth > b.depth
	}
	return a.number < b.number
}
func (h nodes) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *nodes) Push(x any)   { *h = append(*h, x.(*node)) }
func (h *nodes) Pop() any {
	old := *h
	last := old[len(old)-1]
	*h = old[:len(old)-1]
	return last
}
