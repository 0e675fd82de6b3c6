package report

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/drift"
	"corymb/internal/money"
	"corymb/internal/selling"
)

// summary is the season in figures, in one paragraph.
func (w writer) summary() []Part {
	all := w.Books.By(money.ByChannel, money.Filter{}).All
	plants, stems := 0, 0
	for _, species := range w.Ages {
		for _, age := range species.Report.Ages {
			p, s, _ := w.counted(age)
			plants, stems = plants+p, stems+s
		}
	}
	counted := w.say("summary.uncounted")
	if plants > 0 {
		counted = w.say("summary.counted", w.n(stems, "stem"), w.n(plants, "plant"))
	}
	standing := 0
	if all.Ground != nil {
		standing = all.Ground.Plants
	}
	said := w.say("summary.stood", w.n(standing, "plant")) + " " + counted
	if all.Sums == (money.Sums{}) {
		return []Part{Text{Words: said + " " + w.say("summary.no_money")}}
	}
	said += " " + w.say("summary.sold", w.n(all.Stems, "stem"), w.amount(all.Gross), w.amount(all.Net()), w.amount(all.Costs), w.amount(all.Work))
	if all.Left() < 0 {
		return []Part{Text{Words: said + " " + w.say("summary.lacked", w.amount(-all.Left()))}}
	}
	return []Part{Text{Words: said + " " + w.say("summary.left", w.amount(all.Left()))}}
}

// measured is what readings say of the plants of one stock.
type measured struct {
	plants, none, watch, drift, cannot int
}

func (m *measured) add(state drift.State) {
	m.plants++
	switch state {
	case drift.StateNone:
		m.none++
	case drift.StateWatch:
		m.watch++
	case drift.StateDrift:
		m.drift++
	default:
		m.cannot++
	}
}

func (w writer) colours() []Part {
	classes := w.colourClasses()
	of, all := map[crop.StockID]*measured{}, measured{}
	for _, species := range w.Colour {
		for _, one := range species.Report.PlantSeasons {
			if one.Season != w.Season {
				continue
			}
			stock := w.Farm.Plantings[w.Farm.Plants[one.Plant].Planting].Stock
			if of[stock] == nil {
				of[stock] = &measured{}
			}
			of[stock].add(one.State)
			all.add(one.State)
		}
	}
	if all.plants == 0 {
		return append(classes, w.text("colour.none", int(w.Season)))
	}
	table := Table{Head: w.heads("stock", "colour.plants", "colour.same", "colour.watch", "colour.drift", "colour.cannot"), Totals: 1}
	row := func(name string, m measured) []string {
		return []string{name, w.whole(m.plants), w.whole(m.none), w.whole(m.watch), w.whole(m.drift), w.whole(m.cannot)}
	}
	for _, stock := range w.stocksInOrder() {
		if m := of[stock.ID]; m != nil {
			table.Rows = append(table.Rows, row(stock.Name, *m))
		}
	}
	table.Rows = append(table.Rows, row(w.say("all"), all))
	return append(classes, w.text("colour.said", w.n(all.plants, "plant"), w.n(all.drift, "plant")), table, w.small("colour.how"))
}

// colourClasses are the stems sold by colour class.
func (w writer) colourClasses() []Part {
	view := w.Books.By(money.ByColour, money.Filter{})
	if view.All.Stems == 0 {
		return nil
	}
	table := Table{Head: append(w.heads("colour.class", "plants", "stems.sold"), w.say("money.gross", w.currency()), w.say("money.a_stem", w.currency())), Totals: 1}
	for _, row := range append(byName(view, w.colourName), view.All) {
		if row.Stems == 0 && row.Gross == 0 && row.Ground == nil {
			continue
		}
		name := w.colourName(crop.ColourID(row.Key))
		plants, price := "–", "–"
		if row.Ground != nil {
			plants = w.whole(row.Ground.Plants)
		}
		if cents, sold := row.PriceAStem(); sold {
			price = w.decimals(cents/100, 3)
		}
		table.Rows = append(table.Rows, []string{name, plants, w.whole(row.Stems), w.cents(row.Gross), price})
	}
	table.Rows[len(table.Rows)-1][0] = w.say("all")
	return []Part{table}
}

func (w writer) weeks() []Part {
	chart := Weeks{Title: w.say("weeks.chart"), Band: w.say("weeks.band"), Mean: w.say("weeks.mean"), Within: w.say("weeks.within"), Apart: w.say("weeks.apart")}
	table := Table{Head: w.heads("weeks.week", "weeks.expected", "interval", "weeks.came", "weeks.in")}
	inside, unknown := 0, 0
	expected, came := 0.0, 0
	for _, week := range w.Scores.Weeks {
		if w.Farm.Calendar.SeasonOf(week.First) != w.Season {
			continue
		}
		fact := float64(week.Came)
		in := fact >= week.Q05 && fact <= week.Q95
		inside += oneIf(in)
		unknown = max(unknown, week.Unknown)
		expected, came = expected+week.Mean, came+week.Came
		mark := w.say("no")
		if in {
			mark = w.say("yes")
		}
		name := w.shortDay(week.First)
		chart.Rows = append(chart.Rows, Week{name, week.Q05, week.Mean, week.Q95, fact, in})
		table.Rows = append(table.Rows, []string{name, w.decimals(week.Mean, 0), w.between(w.decimals(week.Q05, 0), w.decimals(week.Q95, 0)), w.whole(week.Came), mark})
	}
	left := 0
	for _, monday := range w.Scores.Waiting {
		left += oneIf(w.Farm.Calendar.SeasonOf(monday) == w.Season)
	}
	switch {
	case len(chart.Rows) == 0 && left > 0:
		return []Part{w.text("weeks.left", w.n(left, "week"))}
	case len(chart.Rows) == 0:
		return []Part{w.text("weeks.none")}
	}
	parts := []Part{w.text("weeks.said", w.n(inside, "week"), w.whole(len(chart.Rows)), w.percent(float64(inside)/float64(len(chart.Rows))), w.decimals(expected, 0), w.whole(came)), chart, folded(table)}
	if unknown > 0 {
		parts = append(parts, w.small("weeks.unknown", w.n(unknown, "plant")))
	}
	if left > 0 {
		parts = append(parts, w.small("weeks.left", w.n(left, "week")))
	}
	return append(parts, w.small("weeks.how"))
}

// folded is a long table in two halves side by side.
func folded(t Table) Table {
	const long = 12
	if len(t.Rows) <= long {
		return t
	}
	half := (len(t.Rows) + 1) / 2
	two := Table{Head: slices.Concat(t.Head, t.Head)}
	for i, row := range t.Rows[:half] {
		beside := make([]string, len(row))
		if half+i < len(t.Rows) {
			beside = t.Rows[half+i]
		}
		two.Rows = append(two.Rows, slices.Concat(row, beside))
	}
	return two
}

// delivered is what was asked of one channel for the season's days that are over, and what was packed for it.
type delivered struct {
	deliveries, whole, stems, packed int
}

// deliveries are by channel, of days that are over: what is due today may still be packed. A line counts as kept as far as it was packed, never more.
// What was written down once it was sold was never promised.
func (w writer) deliveries() (map[crop.ChannelID]*delivered, map[crop.OrderID]bool) {
	packed := selling.PackedByLine(w.Farm.Sales)
	span := w.Farm.Calendar.Span(w.Season)
	by, whole := map[crop.ChannelID]*delivered{}, map[crop.OrderID]bool{}
	for _, due := range selling.DueBetween(w.Farm.Sales, span.From, min(span.To, w.Made.Add(-1))) {
		if due.ToldOnceSold(w.Farm.Sales, packed) {
			continue
		}
		channel := w.buyer(due.Buyer).Channel
		d := by[channel]
		if d == nil {
			d = &delivered{}
			by[channel] = d
		}
		kept, wanted := true, 0
		for _, line := range due.Lines {
			tied := bunchesOf(packed[line.ID])
			wanted += line.Bunches
			d.stems += line.Bunches * line.Stems
			d.packed += min(line.Bunches, tied) * line.Stems
			kept = kept && tied >= line.Bunches
		}
		if wanted > 0 {
			d.deliveries++
			d.whole += oneIf(kept)
			whole[due.Order] = kept
		}
	}
	return by, whole
}

func bunchesOf(packed []crop.Packed) int {
	n := 0
	for _, p := range packed {
		n += p.Bunches
	}
	return n
}

func (w writer) promises() []Part {
	by, whole := w.deliveries()
	table := Table{Head: w.heads("channel", "promises.deliveries", "promises.whole", "promises.stems", "promises.packed", "promises.share"), Totals: 1}
	all := delivered{}
	row := func(name string, d delivered) []string {
		return []string{name, w.whole(d.deliveries), w.whole(d.whole), w.whole(d.stems), w.whole(d.packed), w.percent(float64(d.packed) / float64(max(1, d.stems)))}
	}
	for _, channel := range slices.Sorted(maps.Keys(by)) {
		d := by[channel]
		all = delivered{all.deliveries + d.deliveries, all.whole + d.whole, all.stems + d.stems, all.packed + d.packed}
		table.Rows = append(table.Rows, row(w.channelName(channel), *d))
	}
	parts := []Part{}
	if all.deliveries > 0 {
		table.Rows = append(table.Rows, row(w.say("all"), all))
		parts = append(parts, w.text("promises.said", w.whole(all.whole), w.n(all.deliveries, "delivery"), w.whole(all.packed), w.n(all.stems, "stem")), table, w.small("promises.how"))
	} else {
		parts = append(parts, w.text("promises.none"))
	}
	return append(parts, w.asks(whole)...)
}

// asks are what buyers asked for in the season, beyond orders.
func (w writer) asks(whole map[crop.OrderID]bool) []Part {
	asked, yes, stems, offered, unmet := 0, 0, 0, 0, 0
	told, kept, stated := 0, 0, 0
	for _, a := range w.Farm.Ahead.Asks {
		if w.Farm.Calendar.SeasonOf(a.Due) != w.Season {
			continue
		}
		asked, stems, unmet = asked+1, stems+a.Stems, unmet+a.Unmet()
		if a.Answer != crop.AskPromised {
			continue
		}
		yes, offered = yes+1, offered+a.Offered
		if done, over := whole[a.Order]; over && a.Chance > 0 {
			told, stated, kept = told+1, stated+a.Chance, kept+oneIf(done)
		}
	}
	if asked == 0 {
		return []Part{w.text("asks.none")}
	}
	parts := []Part{w.text("asks.said", w.n(asked, "ask"), w.n(stems, "stem"), w.whole(yes), w.n(offered, "stem"), w.n(unmet, "stem"))}
	if told == 0 {
		return append(parts, w.text("asks.untold"))
	}
	const perMille = 1000
	return append(parts, w.text("asks.kept", w.n(told, "promise"), w.percent(float64(stated)/float64(told)/perMille), w.whole(kept), w.percent(float64(kept)/float64(told))))
}

func (w writer) buyer(id crop.BuyerID) crop.Buyer {
	if b, known := w.Farm.Sales.Buyers[id]; known {
		return b
	}
	return w.Farm.Sales.Gone.Buyers[id]
}

func (w writer) channelName(id crop.ChannelID) string {
	if id == "" {
		return w.say("untold")
	}
	return cmp.Or(w.Farm.Sales.Channels[id].Name, w.Farm.Sales.Gone.Channels[id].Name, w.say("untold"))
}

// mostValued are how many plants of most value are named.
const mostValued = 5

func (w writer) plan() []Part {
	if w.Plan == nil {
		return w.decided(w.NoPlan)
	}
	if w.Plan.Season != w.Season {
		return w.decided("")
	}
	count, into := map[division.Do]int{}, 0
	for _, a := range w.Plan.Actions {
		count[a.Do]++
		into += a.Into
	}
	table := Table{Head: w.heads("plan.do", "plants"), Totals: 1}
	for _, do := range []division.Do{division.Keep, division.Divide, division.Lift, division.Replace} {
		table.Rows = append(table.Rows, []string{w.say("do." + string(do)), w.whole(count[do])})
	}
	table.Rows = append(table.Rows, []string{w.say("all"), w.whole(len(w.Plan.Actions))})
	p, q := w.Plan, w.Asked
	parts := []Part{w.text("plan.asked", w.n(q.Places, "place"), w.n(int(math.Round(q.Hours)), "hour"), w.n(q.Seasons, "season"))}
	if q.Goal > 0 {
		parts = append(parts, w.text("plan.goal", w.decimals(p.Goal.Wanted, 0), int(p.Goal.Season), w.decimals(q.Goal, 2), w.decimals(p.Goal.Now, 0), w.percent(p.Goal.Chance), w.n(p.Goal.Draws, "draw")))
	}
	parts = append(parts, w.text("plan.net", w.near(p.Net.Mean), w.near(p.Net.Lo), w.near(p.Net.Hi), w.currency(), w.n(into, "division")), table)
	parts = append(parts, w.valued())
	if slices.ContainsFunc(p.Notes, func(n division.Note) bool { return n.Code == division.NoteSeasonRuns }) {
		parts = append(parts, w.small("plan.runs"))
	}
	return append(parts, w.small("plan.care"))
}

// valued are the plants of most value.
func (w writer) valued() Table {
	actions := slices.Clone(w.Plan.Actions)
	slices.SortStableFunc(actions, func(a, b division.Action) int { return cmp.Compare(b.Value.Mean, a.Value.Mean) })
	table := Table{Head: append(w.heads("plan.plant", "stock", "plan.do", "plan.stems"), w.say("plan.value", w.currency()), w.say("interval"))}
	for _, a := range actions[:min(mostValued, len(actions))] {
		plant := w.Farm.Plants[a.Plant]
		do := w.say("do." + string(a.Do))
		if a.Do == division.Divide {
			do = w.say("plan.into", a.Into)
		}
		table.Rows = append(table.Rows, []string{
			cmp.Or(plant.Code, string(a.Plant)), w.Farm.Stocks[w.Farm.Plantings[plant.Planting].Stock].Name, do, w.decimals(a.Stems.Mean, 0),
			w.near(a.Value.Mean), w.between(w.near(a.Value.Lo), w.near(a.Value.Hi)),
		})
	}
	return table
}

// decided is what was decided for the season's plants, where no plan can be made for it any more.
func (w writer) decided(why division.RefusalCode) []Part {
	count, all := map[crop.IntentDo]int{}, 0
	for _, i := range w.Farm.Ahead.Intents {
		if i.Season == w.Season {
			count[i.Do]++
			all++
		}
	}
	parts := w.noPlan(why)
	if all == 0 {
		return append(parts, w.text("plan.undecided"))
	}
	table := Table{Head: w.heads("plan.do", "plants"), Totals: 1}
	for _, do := range []crop.IntentDo{crop.DoKeep, crop.DoDivide, crop.DoLift, crop.DoReplace} {
		table.Rows = append(table.Rows, []string{w.say("do." + string(do)), w.whole(count[do])})
	}
	table.Rows = append(table.Rows, []string{w.say("all"), w.whole(all)})
	return append(parts, w.text("plan.decided"), table, w.small("plan.care"))
}

// noPlan says why the report has no plan.
func (w writer) noPlan(why division.RefusalCode) []Part {
	elsewhere := w.Season != w.Planned && Check(w.Farm, w.Planned, w.Made) == nil // a new farm has no report of the season before
	switch {
	case elsewhere && w.Season < w.Planned:
		return []Part{w.text("plan.earlier", int(w.Planned))}
	case elsewhere:
		return []Part{w.text("plan.begun", int(w.Planned))}
	case why != "":
		return []Part{w.text("plan.none"), w.text(refusalKey(why))}
	}
	return []Part{w.text("plan.none")}
}

// refusalKey is the key of what is said of a refusal.
func refusalKey(why division.RefusalCode) string {
	key := "plan.refused." + string(why)
	if _, known := wordsOfRefusals[key]; known {
		return key
	}
	return "plan.refused.asked"
}

func (w writer) howToRead() []Part {
	span := w.Farm.Calendar.Span(w.Season)
	parts := []Part{w.small("read.season", int(w.Season), w.day(span.From), w.day(span.To), w.day(w.Made))}
	for _, key := range []string{"read.intervals", "read.plants", "read.uncounted", "read.weeks", "read.money", "read.protected", "read.care"} {
		parts = append(parts, w.small(key))
	}
	if w.Farm.MadeUp {
		parts = append(parts, w.small("read.made_up"))
	}
	return parts
}
