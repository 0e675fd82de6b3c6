package demo

import (
	"math/rand/v2"

	"corymb/internal/crop"
	"corymb/internal/farm"
)

// ask is a wish that somebody came with in the last season. All of it is invented.
type ask struct {
	taken, from, due string // months and days
	buyer            int    // in buyers; -1 is somebody who is not in the book
	note             string
	stems            int
	colours          []string
	grade            crop.Grade
	length           crop.Millimetres
	answer           crop.AskAnswer
	offered          int
}

var asks = []ask{
	{"04-18", "05-29", "05-29", 7, "Okafor, Friday", 160, []string{"coral", "ember"}, crop.GradeFirst, 400, crop.AskDeclined, 60},
	{"05-02", "06-01", "06-07", -1, "A florist from the coast, on the telephone", 240, []string{"garnet", "damson"}, crop.GradeFirst, 400, crop.AskWentElsewhere, 110},
	{"05-11", "05-25", "05-31", 3, "", 90, []string{"oyster"}, crop.GradeFirst, 400, crop.AskDeclined, 50},
	{"05-20", "06-08", "06-14", 1, "Church fair", 120, []string{"garnet"}, crop.GradeExtra, 500, crop.AskWentElsewhere, 40},
	{"06-15", "08-10", "08-16", -1, "Harvest supper at the mill", 150, []string{"barley", "ember"}, crop.GradeFirst, 400, crop.AskDeclined, 70},
	{"07-19", "08-09", "08-15", 2, "", 60, []string{"damson"}, crop.GradeFirst, 400, crop.AskWentElsewhere, 20},
}

// beAsked tells what could not be promised in the last season. It draws ids from a source of its own.
func (g *grower) beAsked(buyers []crop.BuyerID) {
	rnd := rand.New(rand.NewPCG(seed, 6))
	_, last := g.seasons()
	for _, a := range asks {
		told := crop.Ask{
			ID: crop.AskID(randomID(rnd)), Note: a.note, Stems: a.stems, Grade: a.grade, Length: a.length,
			From: onDay(last, a.from), Due: onDay(last, a.due), Taken: onDay(last, a.taken), Person: g.owner(),
			Answer: a.answer, Offered: a.offered,
		}
		if a.buyer >= 0 {
			told.Buyer = buyers[a.buyer]
		}
		for _, name := range a.colours {
			told.Colours = append(told.Colours, g.colours[name])
		}
		g.mark(told.Taken, farm.AskFacts(told))
	}
}
