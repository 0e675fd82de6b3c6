// Package counting says how many plants of an age must be counted for its mean number of stems to be
// known so well: how wide the interval of the mean will come out, and with what assurance.
package counting

import (
	"fmt"
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/yield"
)

// Table is all that a phone needs to make a plan without the shed: how precisely each age would be
// known from so many counted plants. Precision is half the width of the interval, of probability
// Level, of the mean stems that a plant of the age gives in a season, in stems.
//
// The half-widths are those of a sample from endlessly many plants. Counting n of N they shrink by
// sqrt(1 - n/N) (Cochran 1977, Sampling Techniques, 3rd edition, section 2.6; from memory), which the
// phone does: it knows best how many stand. That how widely the sample spreads does not hang on N makes
// it one factor: plants drawn from N that are themselves draws are draws.
type Table struct {
	Level     float64   `json:"level"`
	Plants    []int     `json:"plants"`
	Assurance []float64 `json:"assurance"`
	Ages      []Age     `json:"ages"`
}

// Age is one season in the ground.
type Age struct {
	Age int `json:"age"`
	// From is the age whose counted plants the expectation rests on, 0 where none was counted and how plants
	// differ is common practice.
	From int `json:"from"`
	// Half holds half-widths by Plants and then Assurance: counting so many plants, the half-width
	// comes out at most that wide with that probability.
	Half    Halves   `json:"half"`
	Reached *Reached `json:"reached"` // by the season's counts so far; nil before the first
}

// Halves are half-widths in stems by number of plants and then by assurance.
type Halves [][]float64

// Reached is what the counts of a season came to so far, of one age.
type Reached struct {
	Season crop.Season `json:"season"`
	Plants int         `json:"plants"`
	Open   int         `json:"open"` // of them still being counted
	Mean   float64     `json:"mean"`
	// Half is the half-width from endlessly many plants; nil where it cannot be told, from one plant
	// or from plants that all gave the same.
	Half *float64 `json:"half"`
	// Next is what other numbers of plants would reach, were the plants spread as those counted were;
	// nil with Half.
	Next Halves `json:"next"`
}

// For makes the table of one species for the ages given, and for how the counts of a season stand. An
// error means that the numbers could not be found.
func For(report yield.Report, season crop.Season, ages []int) (Table, error) {
	table := Table{Level: report.Level, Plants: plantNumbers, Assurance: assurances, Ages: []Age{}}
	for _, age := range ages {
		draws, from, err := yield.PlanDraws(report, age)
		if err != nil {
			return Table{}, fmt.Errorf("planning the counting: %w", err)
		}
		a := Age{Age: age, From: from, Half: tabulate(spreadsOf(draws), report.Level)}
		a.Reached = reached(report, season, age)
		table.Ages = append(table.Ages, a)
	}
	return table, nil
}

// AgesAhead lists the ages that plants of a species have in a season or will have in the next one, and
// the first, which whatever is planted meanwhile will have.
func AgesAhead(farm crop.Farm, species string, season crop.Season) []int {
	ages := map[int]bool{1: true}
	for _, plant := range farm.Plants {
		planting := farm.Plantings[plant.Planting]
		if plant.Removed != "" || farm.Stocks[planting.Stock].Species != species {
			continue
		}
		if age := planting.AgeIn(season); age >= 0 {
			ages[max(age, 1)] = true
			ages[age+1] = true
		}
	}
	return slices.Sorted(maps.Keys(ages))
}
