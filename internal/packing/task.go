package packing

import (
	"math/bits"
	"slices"

	"corymb/internal/packing/assign"
)

// asked is a line of the solver: a lot of it is so many bunches of a line of the day.
type asked struct {
	line    int
	bunches int64
	first   bool // it is the part of its line that must be packed if that can be
}

// task is a part as the solver takes it.
type task struct {
	assign.Problem
	asked []asked
}

// bounds are the bunches between which a line must be.
func (line Demand) bounds() (least, most int64) {
	switch {
	case line.Refused:
		return 0, 0
	case line.Pinned != nil:
		return *line.Pinned, *line.Pinned
	}
	return line.MinBunches, line.MaxBunches
}

// task makes one lot of an all-or-nothing line, so that it is whole or not there.
func (d *Day) task(a allowance, p part) task {
	stems, class := d.classes(a, p)
	t := task{Problem: assign.Problem{Stems: stems}}
	for _, l := range p.lines {
		line := d.Demand[l]
		least, most := line.bounds()
		lot, reach := int64(1), int64(0)
		for _, s := range a[l] {
			reach += d.Supply[s].Stems
		}
		if line.AllOrNothing {
			lot = line.MaxBunches
		}
		if most == 0 || lot > reach/line.Bunch {
			most, lot = 0, 1 // there is not enough for it, whatever the others get
		}
		var from []int
		for _, s := range a[l] {
			from = append(from, class[s])
		}
		slices.Sort(from)
		t.asked = append(t.asked, asked{line: l, bunches: lot})
		t.Lines = append(t.Lines, assign.Line{
			Lot: line.Bunch * lot, Worth: line.Price * lot, Least: (least + lot - 1) / lot, Most: most / lot,
			From: slices.Compact(from),
		})
	}
	return t
}

var errWeights = Faults{{Code: CodeTooLarge, Text: "the minimums and pinned lines cannot all be met, and the prices and " +
	"numbers of bunches are too large to weigh against each other: lower a minimum, or unpin a line"}}

// softened is the task for when not all that must be packed can be: as many pinned bunches as can be come first, then as
// many of the minimums, then what brings most.
func (t task) softened(d *Day) (task, error) {
	most, least := int64(0), int64(0)
	reach := t.reach()
	for i, line := range t.Lines {
		most += line.Worth * min(line.Most, reach[i])
		if d.Demand[t.asked[i].line].Pinned == nil {
			least += min(line.Least, reach[i]) * t.asked[i].bunches
		}
	}
	minimum := most + 1
	high, pinned := bits.Mul64(uint64(minimum), uint64(least+1))
	if high != 0 || pinned > assign.MaxWorth {
		return task{}, errWeights
	}
	soft := task{Problem: assign.Problem{Stems: t.Stems}}
	total := uint64(most)
	for i, line := range t.Lines {
		weight := uint64(minimum)
		if d.Demand[t.asked[i].line].Pinned != nil {
			weight = pinned
		}
		first, rest := line, line
		first.Least, first.Most = 0, min(line.Least, line.Most, reach[i])
		rest.Least, rest.Most = 0, line.Most-min(line.Least, line.Most)
		high, over := bits.Mul64(weight, uint64(first.Most*t.asked[i].bunches))
		if total += over; high != 0 || over > assign.MaxWorth || total > assign.MaxWorth {
			return task{}, errWeights
		}
		first.Worth += int64(weight) * t.asked[i].bunches
		soft.Lines = append(soft.Lines, first, rest)
		lot := t.asked[i]
		soft.asked = append(soft.asked, asked{lot.line, lot.bunches, true}, lot)
	}
	return soft, nil
}

// reach is how many lots of each line there are stems for, if it had them all.
func (t task) reach() []int64 {
	var all []int64
	for _, line := range t.Lines {
		stems := int64(0)
		for _, class := range line.From {
			stems += t.Stems[class]
		}
		all = append(all, stems/line.Lot)
	}
	return all
}

// lots says in lots what is given in bunches by line of the day.
func (t task) lots(bunches []int64) []int64 {
	lots := make([]int64, len(t.Lines))
	rest := slices.Clone(bunches)
	for i, a := range t.asked {
		lots[i] = rest[a.line] / a.bunches
		if a.first {
			lots[i] = min(lots[i], t.Lines[i].Most)
		}
		rest[a.line] -= lots[i] * a.bunches
	}
	return lots
}

// bunches adds to each line of the day the bunches of its lots.
func (t task) bunches(lots, into []int64) {
	for i, a := range t.asked {
		into[a.line] += lots[i] * a.bunches
	}
}

// weighted says whether some lots are worth more than what they bring, so that they come first.
func (t task) weighted() bool {
	return slices.ContainsFunc(t.asked, func(a asked) bool { return a.first })
}
