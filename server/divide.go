package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"strings"

	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/sheets"
)

// divideCommand plans what becomes of each plant, from three spreadsheets.
func divideCommand(_ context.Context, args []string, out io.Writer) error {
	set := flags("divide")
	files := spreadsheetFlags(set)
	q := division.Question{Costs: division.UsualCosts()}
	prices := set.String("prices", "", "the `file` with what a stem of each colour, grade and channel brings, prices.csv")
	set.IntVar(&q.Places, "places", 0, "for how many more plants there is ground")
	set.Float64Var(&q.Hours, "hours", 0, "how many hours dividing, lifting and planting may take")
	set.Float64Var(&q.Goal, "goal", 0, "how many times this season's stems are wanted, like 1.5; 0 for none")
	set.IntVar(&q.Seasons, "seasons", 2, "how many seasons to look ahead, 1 to 3; the goal is for the last of them")
	set.IntVar(&q.Most, "most", 4, "the most divisions that one plant is made into")
	set.Float64Var(&q.Chance, "chance", 0, "how likely the goal has to be, like 0.8; 0 asks nothing")
	day := set.String("asof", "", "the `day` on whose evening the question is put, like 2026-10-01; the end of the last season in the files if it is not given")
	format := set.String("format", "json", "how to print it: json, or text for what a person reads")
	if err := parse(set, args); err != nil {
		return err
	}
	switch {
	case *format != "json" && *format != "text":
		return wrongUsage(set, "-format %s is not known: use json or text", *format)
	case *prices == "":
		return wrongUsage(set, "name the prices too: -prices prices.csv")
	}
	if err := files.named(set); err != nil {
		return err
	}
	if *day != "" {
		asOf, err := crop.ParseDate(*day)
		if err != nil {
			return wrongUsage(set, "-asof %v", err)
		}
		q.AsOf = asOf
	}
	plan, err := planOf(files, *prices, q)
	if err != nil {
		return err
	}
	if *format == "text" {
		_, err := io.WriteString(out, plan.Text())
		return err
	}
	printer := json.NewEncoder(out)
	printer.SetIndent("", " ")
	return printer.Encode(plan)
}

// planOf reads the files and plans.
func planOf(files *spreadsheets, prices string, q division.Question) (division.Plan, error) {
	contents, err := files.read(sheets.UpTo(q.AsOf))
	if err != nil {
		return division.Plan{}, err
	}
	if q.Prices, err = readPrices(prices, contents.Farm.Colours); err != nil {
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
	for _, ignored := range read.Ignored {
		fmt.Fprintf(os.Stderr, "corymb: %s: the column %s is not known and was left out\n", ignored.File, strings.TrimSpace(ignored.Column))
	}
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
