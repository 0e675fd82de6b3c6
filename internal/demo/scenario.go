package demo

import "corymb/internal/crop"

// people are the made-up farm's three, the owner first. Those before benchHand count in the row.
var people = []string{"Maren", "Joaquín", "Tilda"}

const benchHand = 2

// seedlings came up by themselves in the oldest bed.
const seedlings = 6

const yarrowName = "Achillea millefolium"

// The seasons that the made-up farm has seen.
const firstSeason, lastSeason crop.Season = 2024, 2026

type class struct {
	name, swatch string
	share        float64 // of the plants of a mixed strain
}

var yarrowColours = []class{
	{"ember", "#b7603f", .22}, {"oyster", "#e7c4b8", .20}, {"garnet", "#b23a52", .18},
	{"barley", "#e2cb83", .16}, {"damson", "#8d4377", .12}, {"coral", "#dd8791", .12},
}

var phloxColours = []class{{"milk", "#efe9dc", .5}, {"mallow", "#b98bb4", .5}}

// habit is how a kind of plant bears. All of it is invented.
type habit struct {
	stems   []float64 // mean in the first, second, third season; the last holds on
	spread  float64   // sd of a plant's own log rate
	size    float64   // of the negative binomial within a season
	quality []float64 // by season in the ground, higher is better heads
	length  []float64 // mean stem length in mm
	fall    float64   // share of the stems that come after cutting back
	opens   string    // MM-DD of a middling year's first cut
	colours []class
}

var yarrow = habit{
	stems: []float64{7.6, 23, 26}, spread: .34, size: 6,
	quality: []float64{-.55, .35, .1}, length: []float64{385, 520, 545},
	fall: .22, opens: "05-12", colours: yarrowColours,
}

var phlox = habit{
	stems: []float64{3.1, 7.8, 11}, spread: .3, size: 8,
	quality: []float64{-.2, .3, .4}, length: []float64{450, 640, 680},
	fall: .12, opens: "06-24", colours: phloxColours,
}

// weather is what a season did to every plant: times the stems, and days late.
type weather struct {
	stems float64
	late  int
}

var weathers = map[crop.Season]weather{2024: {1.0, 3}, 2025: {1.08, -4}, 2026: {.94, 1}}

type plot struct {
	bed           string
	lines, number int // plants: lines times number
	length, width crop.Millimetres
	stock         string
	species       string
	origin        crop.Origin
	protected     bool
	planted       crop.Date
	first         crop.Season
	counted       int  // how many plants are counted plants
	divided       bool // its plants are divisions of older ones of the species
	habit         *habit
}

// plots are the plantings, in the order in which they were set. A bed may hold two.
var plots = []plot{
	{"Gate", 3, 24, 9_600, 1_200, "Kiln mix", yarrowName, crop.OriginSeed, false, "2023-09-21", 2024, 18, false, &yarrow},
	{"Pump", 3, 20, 8_000, 1_200, "Kiln mix, spring plugs", yarrowName, crop.OriginPlug, false, "2024-03-22", 2024, 14, false, &yarrow},
	{"Elder", 2, 20, 9_000, 1_000, "Tall phlox, bought in", "Phlox paniculata", crop.OriginBought, false, "2023-10-05", 2024, 12, false, &phlox},
	{"Long", 3, 24, 9_600, 1_200, "Kiln mix", yarrowName, crop.OriginSeed, false, "2025-03-27", 2025, 16, false, &yarrow},
	{"Well", 2, 18, 7_200, 1_000, "Kiln mix, own divisions", yarrowName, crop.OriginDivision, false, "2025-09-18", 2026, 12, true, &yarrow},
	{"Elder", 1, 20, 9_000, 1_000, "Tall phlox, own divisions", "Phlox paniculata", crop.OriginDivision, false, "2025-10-02", 2026, 8, true, &phlox},
	{"Well", 1, 18, 7_200, 1_000, "Cinder Dome, bought in", yarrowName, crop.OriginBought, true, "2025-09-18", 2026, 6, false, &yarrow},
}
