package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math"
	"os"

	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/sheets"
)

// divideCommand plans what becomes of each plant, from spreadsheets.
func divideCommand(_ context.Context, args []string, out io.Writer) error {
	set := flags("divide")
	var q division.Question
	files, more, asked := spreadsheetFlags(set), divideFiles{}, answerFlags(set, "the end of the last season in the files", "json", "text")
	set.StringVar(&more.prices, "prices", "", "the `file` with what a stem of each colour, grade and channel brings, prices.csv")
	set.StringVar(&more.wanted, "wanted", "", "the `file` with stems that are wanted by colour and week, wanted.csv; without it none are")
	askedOfDivisions(set, &q)
	costFlags(set, &q.Costs)
	if err := parse(set, args); err != nil {
		return err
	}
	if more.prices == "" {
		return wrongUsage(set, "name the prices too: -prices prices.csv")
	}
	if q.Chance > 0 && q.Goal == 0 {
		return wrongUsage(set, "-chance says how likely the goal has to be: name the goal too, like -goal 1.5")
	}
	if err := files.named(set); err != nil {
		return err
	}
	var err error
	if q.AsOf, err = asked.checked(set); err != nil {
		return err
	}
	plan, err := planOf(files, more, q)
	if err != nil {
		return err
	}
	if asked.format == "text" {
		_, err := io.WriteString(out, plan.Text())
		return err
	}
	return printJSON(out, plan)
}

// askedOfDivisions are the flags of what a plan has to keep to and to reach.
func askedOfDivisions(set *flag.FlagSet, q *division.Question) {
	set.IntVar(&q.Places, "places", 0, "for how many more plants there is ground")
	set.Float64Var(&q.Hours, "hours", 0, "how many hours dividing, lifting and planting may take")
	set.Float64Var(&q.Goal, "goal", 0, "how many times this season's stems are wanted, like 1.5; 0 for none")
	set.IntVar(&q.Seasons, "seasons", 2, "how many seasons to look ahead, 1 to 3; the goal is for the last of them")
	set.IntVar(&q.Most, "most", 4, "the most divisions that one plant is made into")
	set.Float64Var(&q.Chance, "chance", 0, "how likely the goal has to be, like 0.8; 0 asks nothing")
}

// costFlags are what divisions cost, each as usual where it is not given.
func costFlags(set *flag.FlagSet, c *crop.DivisionCosts) {
	usual := crop.UsualDivisionCosts
	cents := func(to *crop.Cents, name string, usual crop.Cents, what string) {
		set.Int64Var((*int64)(to), name, int64(usual), what+", in whole `cents`")
	}
	cents(&c.Hour, "hour-cents", usual.Hour, "what an hour of work costs")
	set.IntVar(&c.Divide, "divide-minutes", usual.Divide, "how many `minutes` of work each division takes")
	set.IntVar(&c.Lift, "lift-minutes", usual.Lift, "how many `minutes` it takes to lift a plant")
	set.IntVar(&c.Set, "set-minutes", usual.Set, "how many `minutes` it takes to set a plug")
	cents(&c.Plug, "plug-cents", usual.Plug, "what a plug costs")
	cents(&c.Ground, "ground-cents", usual.Ground, "what a place in the ground costs a season")
	set.IntVar(&c.Standing, "standing-worth", usual.Standing, "what stands at the end is worth so many `percent` of what it brings in one more season")
}

// divideFiles are what a plan goes by beside plants and cuts.
type divideFiles struct {
	prices, wanted string
}

// planOf reads the files and plans.
func planOf(files *spreadsheets, more divideFiles, q division.Question) (division.Plan, error) {
	contents, err := files.read(sheets.UpTo(q.AsOf))
	if err != nil {
		return division.Plan{}, err
	}
	tellNotes(os.Stderr, contents)
	if q.Prices, err = readPrices(more.prices, contents.Farm.Colours); err != nil {
		return division.Plan{}, err
	}
	if q.Wanted, err = readWanted(more.wanted, contents.Farm.Colours); err != nil {
		return division.Plan{}, err
	}
	return division.Of(contents.Farm, q)
}

func readPrices(path string, colours map[crop.ColourID]crop.Colour) ([]division.Price, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("opening the prices: %w", err)
	}
	defer file.Close()
	read, err := sheets.ReadPrices(sheets.Source{Name: path, Reader: file}, colours)
	if err != nil {
		return nil, err
	}
	tellIgnored(os.Stderr, read.Ignored)
	list := make([]division.Price, 0, len(read.Rows))
	for _, row := range read.Rows {
		price := division.Price{Colour: row.Colour, Grade: row.Grade, Channel: row.Channel, Cents: float64(row.Cents), AWeek: float64(row.AWeek)}
		if row.All {
			price.AWeek = math.Inf(1)
		}
		list = append(list, price)
	}
	return list, nil
}

func readWanted(path string, colours map[crop.ColourID]crop.Colour) ([]division.Wanted, error) {
	if path == "" {
		return nil, nil
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("opening what is wanted: %w", err)
	}
	defer file.Close()
	read, err := sheets.ReadWanted(sheets.Source{Name: path, Reader: file}, colours)
	if err != nil {
		return nil, err
	}
	tellIgnored(os.Stderr, read.Ignored)
	list := make([]division.Wanted, 0, len(read.Rows))
	for _, row := range read.Rows {
		list = append(list, division.Wanted{Colour: row.Colour, Due: row.Monday, Stems: row.Stems})
	}
	return list, nil
}
