package packing

import (
	"context"
	"flag"
	"fmt"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

var largeDays = flag.Int("packing.large", 3, "how many large days of each kind are planned for the figures")

// A large day is one of 150 supplies and 60 lines. Time is not held to, since machines differ; what is looked at is.
func TestLargeDaysAreProvenByLookingAtAFewHundredNodes(t *testing.T) {
	over, cancel := context.WithCancel(context.Background())
	cancel()
	for _, kind := range kinds {
		for seed := uint64(1); seed <= 2; seed++ {
			d := madeUp(kind, seed, 150, 60)
			plan := solved(t, d, Options{})
			if plan.Nodes > 300 {
				t.Errorf("%s: %d nodes", d.Name, plan.Nodes)
			}
			early, err := Solve(over, d, Options{OneMore: true})
			if err != nil {
				t.Fatal(err)
			}
			if wrong := broken(d, early); len(wrong) > 0 || early.Bound < plan.Revenue {
				t.Errorf("%s without time: bound %d, best %d: %v", d.Name, early.Bound, plan.Revenue, wrong)
			}
			if !early.Proven && len(early.OneStem) == len(d.Supply) {
				t.Errorf("%s without time: what one more brings is told", d.Name)
			}
		}
	}
}

// BenchmarkLargeDays tells how many large days are proven in time: run it with -benchtime 1x.
func BenchmarkLargeDays(b *testing.B) {
	for range b.N {
		var within1, within5, days int
		var worst, sum time.Duration
		for _, kind := range kinds {
			line := ""
			for seed := range uint64(*largeDays) {
				d := madeUp(kind, seed+1, 150, 60)
				ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
				start := time.Now()
				plan, err := Solve(ctx, d, Options{})
				took := time.Since(start)
				cancel()
				if err != nil {
					b.Fatal(err)
				}
				if !plan.Proven {
					took = 30 * time.Second
				}
				days++
				sum += took
				worst = max(worst, took)
				if took <= time.Second {
					within1++
				}
				if took <= 5*time.Second {
					within5++
				}
				line += fmt.Sprintf(" %.3f/%d", took.Seconds(), plan.Nodes)
			}
			b.Log(kind, "seconds/nodes:", strings.TrimSpace(line))
		}
		b.ReportMetric(float64(days), "days")
		b.ReportMetric(float64(within1), "within1s")
		b.ReportMetric(float64(within5), "within5s")
		b.ReportMetric(worst.Seconds(), "worst_s")
		b.ReportMetric(sum.Seconds()/float64(days), "mean_s")
	}
}

// ending is a context that ends when it was asked so often whether it has.
type ending struct {
	context.Context
	left atomic.Int64
}

func (e *ending) Err() error {
	if e.left.Add(-1) < 0 {
		return context.Canceled
	}
	return nil
}

func TestWheneverTimeEndsThereIsAPlanAndARightBound(t *testing.T) {
	for _, kind := range []string{"seconds", "scarce", "web", "odd sizes"} {
		d := madeUp(kind, 4, 45, 22)
		best := solved(t, d, Options{})
		for asked := range int64(120) {
			ctx := &ending{Context: context.Background()}
			ctx.left.Store(asked)
			plan, err := Solve(ctx, d, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if wrong := broken(d, plan); len(wrong) > 0 || plan.Bound < best.Revenue || plan.Revenue > best.Revenue {
				t.Fatalf("%s, ended when asked %d times: %d to %d, best %d: %v", kind, asked, plan.Revenue, plan.Bound, best.Revenue, wrong)
			}
		}
	}
}
