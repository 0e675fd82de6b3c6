package report

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"corymb/internal/crop"
	"corymb/internal/money"
	"corymb/internal/yield"
)

// ofSeason is what an age gave in the season, where any of its plants were counted through it.
func (w writer) ofSeason(age yield.Age) (yield.SeasonStems, bool) {
	i := slices.IndexFunc(age.Seasons, func(s yield.SeasonStems) bool { return s.Season == w.Season })
	if i < 0 {
		return yield.SeasonStems{}, false
	}
	return age.Seasons[i], true
}

// counted are the plants of an age that were counted through the season, the stems that they gave, and those still open.
func (w writer) counted(age yield.Age) (plants, stems, open int) {
	for _, p := range age.Plants {
		switch {
		case p.Season != w.Season:
		case p.Open:
			open++
		default:
			plants, stems = plants+1, stems+p.Stems
		}
	}
	return plants, stems, open
}

func (w writer) yields() []Part {
	var parts []Part
	var uncounted []string
	for _, species := range w.Ages {
		of := w.yieldsOf(species.Report)
		if len(of) == 0 {
			uncounted = append(uncounted, cmp.Or(species.Species, w.say("untold")))
			continue
		}
		parts = append(append(parts, w.species(species.Species, len(w.Ages))...), of...)
	}
	if len(parts) == 0 {
		return []Part{w.text("yield.none", int(w.Season))}
	}
	if len(uncounted) > 0 {
		parts = append(parts, w.text("yield.uncounted", strings.Join(uncounted, ", ")))
	}
	if slices.ContainsFunc(parts, func(p Part) bool { _, chart := p.(Ranges); return chart }) {
		parts = append(parts, w.small("yield.how"))
	}
	return parts
}

func (w writer) yieldsOf(r yield.Report) []Part {
	chart := Ranges{Title: w.say("yield.chart", int(w.Season))}
	table := Table{Head: w.heads("yield.age", "yield.mean", "interval", "yield.plants", "yield.stems", "yield.alive", "yield.all", "yield.behind")}
	allPlants, allStems, allOpen := 0, 0, 0
	for _, age := range r.Ages {
		season, known := w.ofSeason(age)
		plants, stems, open := w.counted(age)
		allOpen += open
		if !known || plants+open == 0 {
			continue
		}
		allPlants, allStems = allPlants+plants, allStems+stems
		mean, lo, hi := float64(season.Mean), float64(season.Lo), float64(season.Hi)
		name := w.age(age.Age)
		row := Range{Name: name, Mid: mean, Lo: lo, Hi: hi, Said: w.say("yield.said", w.rounded(mean), w.n(plants, "plant"))}
		if plants > 0 {
			row.PlainPresent, row.Plain = true, float64(stems)/float64(plants)
		}
		chart.Rows = append(chart.Rows, row)
		table.Rows = append(table.Rows, []string{name, w.rounded(mean), w.between(w.rounded(lo), w.rounded(hi)), w.whole(plants), w.whole(stems), w.whole(season.Alive),
			w.between(w.rounded(float64(age.Stems.Lo)), w.rounded(float64(age.Stems.Hi))), w.whole(age.PlantSeasons)})
	}
	switch {
	case len(table.Rows) == 0 && allOpen > 0:
		return []Part{w.text("yield.open", w.n(allOpen, "plant"))}
	case len(table.Rows) == 0:
		return nil
	}
	counted := w.say("yield.counted", w.n(allStems, "stem"), w.n(allPlants, "plant"))
	if allOpen > 0 {
		counted += " " + w.say("yield.open", w.n(allOpen, "plant"))
	}
	parts := []Part{Text{Words: counted}, chart, table}
	if slices.ContainsFunc(r.Notes, func(n yield.Note) bool { return n.Code == yield.NoteAgeIsSeason }) {
		parts = append(parts, w.small("yield.confounded"))
	}
	if slices.ContainsFunc(r.Notes, func(n yield.Note) bool { return n.Code == yield.NoteAssumedCounted }) {
		parts = append(parts, w.small("yield.assumed"))
	}
	return parts
}

func (w writer) age(age int) string { return w.say("age", age) }

func (w writer) heads(keys ...string) []string {
	var list []string
	for _, key := range keys {
		list = append(list, w.say(key))
	}
	return list
}

func (w writer) survival() []Part {
	var parts []Part
	for _, species := range w.Ages {
		if s := species.Report.Survival; s != nil && len(s.Ages) > 0 {
			parts = append(append(parts, w.species(species.Species, len(w.Ages))...), w.survivalOf(*s)...)
		}
	}
	if len(parts) == 0 {
		return []Part{w.text("survival.none")}
	}
	return append(parts, w.small("survival.how"))
}

func (w writer) survivalOf(s yield.Survival) []Part {
	chart := Ranges{Title: w.say("survival.chart"), Most: 100}
	table := Table{Head: w.heads("yield.age", "survival.p", "interval", "survival.start", "survival.lost", "survival.plantings", "survival.stood")}
	start, lost := 0, 0
	for _, age := range s.Ages {
		name := w.age(age.Age)
		if age.AtStart > 0 {
			chart.Rows = append(chart.Rows, Range{
				Name: name, Mid: 100 * age.P, Lo: 100 * age.Lo, Hi: 100 * age.Hi, PlainPresent: true, Plain: 100 * float64(age.AtStart-age.Lost) / float64(age.AtStart),
				Said: w.say("survival.said", w.percent(age.P), w.n(age.AtStart, "plant")),
			})
		}
		start, lost = start+age.AtStart, lost+age.Lost
		table.Rows = append(table.Rows, []string{
			name, w.percent(age.P), w.between(w.decimals(100*age.Lo, 0), w.decimals(100*age.Hi, 0)) + " %", w.whole(age.AtStart), w.whole(age.Lost),
			w.whole(age.PlantingSeasons), w.whole(s.Plants(age.Age, w.Season).AtStart),
		})
	}
	said := w.text("survival.counted", w.n(start, "plant.season"), w.n(lost, "plant"))
	if len(chart.Rows) == 0 {
		return []Part{w.text("survival.unfollowed"), table}
	}
	return []Part{said, chart, table}
}

// gradesBest are the grades as they are read, the best first.
func gradesBest() []crop.Grade {
	list := slices.Clone(crop.GradesLowToHigh)
	slices.Reverse(list)
	return list
}

func (w writer) grades() []Part {
	stacks := Stacks{Title: w.say("grades.chart")}
	for _, g := range gradesBest() {
		stacks.Parts = append(stacks.Parts, w.say("grade."+string(g)))
	}
	table := Table{Head: w.heads("yield.age", "grades.extra", "grades.first", "grades.out", "grades.graded", "grades.length", "interval")}
	for _, species := range w.Ages {
		for _, age := range species.Report.Ages {
			for _, cell := range age.Grades {
				name := w.say("grades.row", age.Age, w.flush(cell.Flush))
				if len(w.Ages) > 1 {
					name = w.say("grades.of", species.Species, age.Age, w.flush(cell.Flush))
				}
				stacks.Rows = append(stacks.Rows, Stack{name, w.n(cell.Stems, "stem"), []float64{float64(cell.P.Extra), float64(cell.P.First), float64(cell.P.Second), float64(cell.P.Out)}})
				table.Rows = append(table.Rows, append([]string{name, w.shares(cell.P.Extra, cell.Lo.Extra, cell.Hi.Extra), w.shares(cell.P.First, cell.Lo.First, cell.Hi.First),
					w.shares(cell.P.Out, cell.Lo.Out, cell.Hi.Out), w.whole(cell.Stems)}, w.length(age, cell.Flush)...))
			}
		}
	}
	if len(table.Rows) == 0 {
		return []Part{w.text("grades.none")}
	}
	parts := []Part{stacks, table}
	if said := w.cutByGrade(); said != "" {
		parts = append([]Part{Text{Words: said}}, parts...)
	}
	return append(parts, w.small("grades.how"))
}

func (w writer) shares(p, lo, hi yield.Figure) string {
	return w.decimals(100*float64(p), 0) + " (" + w.between(w.decimals(100*float64(lo), 0), w.decimals(100*float64(hi), 0)) + ")"
}

// length is the mean length of an age's stems in a flush, in the farm's unit.
func (w writer) length(age yield.Age, flush crop.Flush) []string {
	cm, known := age.LengthCM[flush]
	if !known {
		return []string{"–", "–"}
	}
	of := func(f yield.Figure) string {
		const inch = 2.54
		if w.Farm.Unit == crop.Inches {
			return w.decimals(float64(f)/inch, 1)
		}
		return w.decimals(float64(f), 1)
	}
	return []string{of(cm.Mean) + " " + w.unit(), w.between(of(cm.Lo), of(cm.Hi))}
}

// unit is the farm's unit of length as the language shortens it.
func (w writer) unit() string {
	if w.Farm.Unit == crop.Inches {
		return w.say("inches")
	}
	return string(crop.Centimetres)
}

func (w writer) flush(f crop.Flush) string {
	switch f {
	case crop.FlushSpring:
		return w.say("flush.spring")
	case "":
		return w.say("untold")
	default:
		return w.say("flush.fall")
	}
}

// cutByGrade is how the stems that were sold in the season were graded.
func (w writer) cutByGrade() string {
	sold, total := map[crop.Grade]int{}, 0
	for _, e := range w.Books.Entries {
		sold[e.Grade] += e.Stems * oneIf(e.Kind == money.Sold)
		total += e.Stems * oneIf(e.Kind == money.Sold)
	}
	if total == 0 {
		return ""
	}
	return w.say("grades.sold", w.n(total, "stem"), w.whole(sold[crop.GradeExtra]), w.whole(sold[crop.GradeFirst]), w.whole(sold[crop.GradeSecond]),
		w.whole(total-sold[crop.GradeExtra]-sold[crop.GradeFirst]-sold[crop.GradeSecond]))
}

func oneIf(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// colourNames are a farm's colour classes by name.
func (w writer) colourName(id crop.ColourID) string {
	if name := w.Farm.Colours[id].Name; name != "" {
		return name
	}
	return w.say("untold")
}

// stocksInOrder are a farm's stocks by name.
func (w writer) stocksInOrder() []crop.Stock {
	return slices.SortedFunc(maps.Values(w.Farm.Stocks), func(a, b crop.Stock) int {
		return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
}
