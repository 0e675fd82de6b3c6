package demo

import "corymb/internal/crop"

// Channels, buyers, rules and prices of the made-up farm. All of it is invented.

// coolerDays is how long a stem is offered after its cut.
const coolerDays = 6

// bookEnds is the month and day on which the last made-up order is due at the latest.
const bookEnds = "08-18"

// priceSteps are the days from which the prices hold, as percents of those with which the season begins.
var priceSteps = []struct {
	day     string
	percent crop.Cents
}{{"04-01", 100}, {"06-15", 92}}

type channel struct {
	name       string
	kind       crop.ChannelKind
	floor      map[crop.Grade]crop.Cents
	commission int
	fee        crop.Cents
	buyerPays  bool
	cutoffDays int
	cutoffTime string
	days       crop.Weekdays
}

var channels = []channel{
	{"Florists in town", crop.ChannelWholesale, map[crop.Grade]crop.Cents{crop.GradeExtra: 48, crop.GradeFirst: 38}, 0, 650, true, 1, "17:00", "25"},
	{"Stem pool", crop.ChannelCoOp, map[crop.Grade]crop.Cents{crop.GradeExtra: 44, crop.GradeFirst: 34, crop.GradeSecond: 18}, 1500, 0, false, 2, "12:00", "2"},
	{"Saturday stall", crop.ChannelRetail, nil, 0, 1800, false, 0, "", "5"},
	{"Weddings", crop.ChannelEvent, map[crop.Grade]crop.Cents{crop.GradeExtra: 60}, 0, 0, false, 7, "", "25"},
	{"Dried bunches", crop.ChannelDried, nil, 0, 0, false, 0, "", "25"},
}

type tie struct {
	name   string
	stems  int
	grade  crop.Grade
	length crop.Millimetres
	prices []crop.Cents // in each channel, as the season begins; 0 is none
}

var ties = []tie{
	{"Ten long extras", 10, crop.GradeExtra, 500, []crop.Cents{790, 740, 0, 980, 0}},
	{"Ten firsts", 10, crop.GradeFirst, 400, []crop.Cents{560, 530, 700, 690, 0}},
	{"Seconds, fifteen", 15, crop.GradeSecond, 300, []crop.Cents{0, 390, 480, 0, 0}},
	{"Twenty-five to dry", 25, crop.GradeSecond, 0, []crop.Cents{0, 0, 0, 0, 425}},
}

type buyer struct {
	name, address string
	channel       int
	accepts       map[string][]string // by colour asked
}

var buyers = []buyer{
	{"Fern & Thimble", "3 Weir Lane", 0, map[string][]string{"garnet": {"damson"}}},
	{"Blumenhof Arnd", "18 Station Road", 0, nil},
	{"Studio Calendula", "7 Hill Yard", 0, map[string][]string{"oyster": {"barley"}, "coral": {"oyster"}}},
	{"Petra Quint", "22 Mill Street", 0, nil},
	{"Stem pool, hall 2", "Ring Road 40", 1, nil},
	{"Own stall", "Market Square", 2, nil},
	{"Wedding Ilves", "Lake House", 3, nil},
	{"Wedding Okafor", "Orchard Barn", 3, map[string][]string{"coral": {"ember"}}},
	{"Drying loft", "Own yard", 4, nil},
}

// wish is what a buyer asks for again and again: of a rule, so many bunches of some colours.
type wish struct {
	buyer, tie, bunches int
	colours             []string // none is any
	whole               bool
	often               float64 // how likely on a delivery day of the channel
}

var wishes = []wish{
	{0, 0, 2, []string{"garnet"}, false, .9},
	{0, 1, 2, []string{"oyster"}, false, .8},
	{1, 1, 4, []string{"ember", "coral"}, false, .8},
	{1, 0, 1, []string{"damson"}, false, .5},
	{2, 1, 3, []string{"coral"}, false, .7},
	{2, 1, 2, []string{"barley", "oyster"}, false, .6},
	{3, 1, 2, nil, false, .7},
	{5, 2, 5, nil, false, 1},
	{5, 1, 3, nil, false, .8},
	{6, 0, 4, []string{"oyster", "coral"}, true, .12},
	{7, 0, 3, []string{"coral"}, true, .12},
	{8, 3, 6, nil, false, 1},
}

// weekly is what the stem pool has as a standing order, on the days of its channel.
var weekly = []wish{
	{4, 0, 1, nil, false, 1},
	{4, 1, 3, nil, false, 1},
	{4, 2, 2, nil, false, 1},
}
