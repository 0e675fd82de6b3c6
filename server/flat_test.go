package main

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/uuid"

	"corymb/internal/simnet"
	"corymb/syncproto"
)

// tenth is the part of the workload that is timed when the farm is young and when it is grown.
const tenth = measured / 10

// BenchmarkCostStaysFlat measures what a change costs in a farm that holds 100,000, as a multiple of
// what it costs in one that holds 10,000: to push it in frames of 2,000 and of 20, to push it and bring
// the projections level with it, and to pull it. The young farm's pull comes out of memory, where the
// newest mebibyte of the log is kept, the grown farm's out of the database.
//
//	go test -run '^$' -bench Flat -benchtime 1x ./server
func BenchmarkCostStaysFlat(b *testing.B) {
	work := simnet.Counts(rand.New(rand.NewPCG(1, 2)), uuid.NewString(), measured+tenth)
	for b.Loop() {
		for _, frame := range []struct {
			name string
			size int
		}{{"push2000", 2_000}, {"push20", 20}} {
			var grown []costs
			for range rounds {
				grown = append(grown, growth(b, work, frame.size))
			}
			b.ReportMetric(median(each(grown, func(c costs) float64 { return c.push })), frame.name+"-ratio")
			b.ReportMetric(median(each(grown, func(c costs) float64 { return c.level })), frame.name+"-projections-ratio")
			b.ReportMetric(median(each(grown, func(c costs) float64 { return c.pull })), frame.name+"-pull-ratio")
		}
	}
}

// costs are seconds a change, or ratios of two such.
type costs struct{ push, level, pull float64 }

// growth fills a shed and compares the tenth of the work after the first with the tenth after all.
func growth(tb testing.TB, work syncproto.Batch, frame int) costs {
	s := startShed(tb)
	defer s.stop()
	ctx := context.Background()
	push := func(from, to int) (seconds, level float64) {
		seconds = pushAll(tb, s.URL, simnet.Part(work, from, to), frame)
		begun := time.Now()
		must(tb, s.farm.Level(ctx))
		return seconds, seconds + time.Since(begun).Seconds()
	}
	pull := func() float64 {
		begun := time.Now()
		n := readAll(tb, s.URL)
		return time.Since(begun).Seconds() / float64(n)
	}
	push(0, tenth)
	youngPull := pull()
	young, youngLevel := push(tenth, 2*tenth)
	push(2*tenth, measured)
	grownPull := pull()
	grown, grownLevel := push(measured, measured+tenth)
	return costs{grown / young, grownLevel / youngLevel, grownPull / youngPull}
}

func each(all []costs, of func(costs) float64) []float64 {
	numbers := make([]float64, 0, len(all))
	for _, c := range all {
		numbers = append(numbers, of(c))
	}
	return numbers
}
