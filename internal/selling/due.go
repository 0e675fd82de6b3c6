// Package selling says what is due to whom on which day, what it goes for, and which stems lie in the cooler for it.
package selling

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"corymb/internal/crop"
)

// Due is one delivery to a buyer: an order that was written, or a standing order's on one of its days.
type Due struct {
	Order    crop.OrderID
	Standing crop.StandingID // empty where it is no standing order's
	Buyer    crop.BuyerID
	Day      crop.Date
	Note     string
	Lines    []crop.Line // by their ids; a standing order's have the ids that they have on this day
}

// DueBetween lists the deliveries from one day to another, both included, by day and buyer's name.
func DueBetween(s crop.Sales, from, to crop.Date) []Due {
	lines := map[string][]crop.Line{} // by order or standing order
	for _, line := range s.Lines {
		owner := cmp.Or(string(line.Order), string(line.Standing))
		lines[owner] = append(lines[owner], line)
	}
	var found []Due
	for _, o := range s.Orders {
		if from <= o.Due && o.Due <= to {
			found = append(found, Due{Order: o.ID, Buyer: o.Buyer, Day: o.Due, Note: o.Note, Lines: byID(lines[string(o.ID)])})
		}
	}
	for _, standing := range s.Standings {
		for _, day := range daysOf(standing, from, to) {
			if due, ok := occurrence(s, standing, day, lines[string(standing.ID)]); ok {
				found = append(found, due)
			}
		}
	}
	slices.SortFunc(found, func(a, b Due) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(nameOf(s, a.Buyer), nameOf(s, b.Buyer)), cmp.Compare(a.Order, b.Order))
	})
	return found
}

// DueOf is the delivery of an order's id, whether it was written or is a standing order's on a day.
func DueOf(s crop.Sales, id crop.OrderID) (Due, bool) {
	day := s.Orders[id].Due
	if _, of, ok := OfStanding(crop.LineID(id)); day == "" && ok {
		day = of
	}
	for _, due := range DueBetween(s, day, day) {
		if due.Order == id {
			return due, true
		}
	}
	return Due{}, false
}

// occurrence is a standing order's delivery on a day, unless an order was written in its place.
func occurrence(s crop.Sales, standing crop.StandingOrder, day crop.Date, template []crop.Line) (Due, bool) {
	id := crop.OrderID(string(standing.ID) + "@" + string(day))
	if _, written := s.Orders[id]; written {
		return Due{}, false
	}
	due := Due{Order: id, Standing: standing.ID, Buyer: standing.Buyer, Day: day, Note: standing.Note}
	for _, line := range template {
		line.ID, line.Order, line.Standing = crop.LineID(string(line.ID)+"@"+string(day)), id, ""
		due.Lines = append(due.Lines, line)
	}
	due.Lines = byID(due.Lines)
	return due, true
}

func byID(lines []crop.Line) []crop.Line {
	return slices.SortedFunc(slices.Values(lines), func(a, b crop.Line) int { return cmp.Compare(a.ID, b.ID) })
}

func nameOf(s crop.Sales, buyer crop.BuyerID) string { return buyerOf(s, buyer).Name }

// buyerOf finds a buyer, a deleted one too.
func buyerOf(s crop.Sales, id crop.BuyerID) crop.Buyer {
	if b, ok := s.Buyers[id]; ok {
		return b
	}
	return s.Gone.Buyers[id]
}

// daysOf lists the days of a standing order between two days. A day before the order begins, and one of a week that is
// left out, is none.
func daysOf(s crop.StandingOrder, from, to crop.Date) []crop.Date {
	begin := max(from, s.From)
	end := to
	if s.Until != "" {
		end = min(end, s.Until)
	}
	var days []crop.Date
	for day := begin; day != "" && day <= end; day = day.Add(1) {
		if s.Days.Holds(day) && weeksBetween(s.From, day)%max(s.Every, 1) == 0 && !slices.Contains(s.Skips, day) {
			days = append(days, day)
		}
	}
	return days
}

// weeksBetween counts the Mondays that lie between the weeks of two days.
func weeksBetween(from, to crop.Date) int { return from.Monday().DaysTo(to.Monday()) / 7 }

// Cutoff is the moment after which an order for a day comes too late, in the farm's own time, or false where the
// channel names none.
func Cutoff(c crop.Channel, due crop.Date, zone *time.Location) (time.Time, bool) {
	if c.CutoffDays == 0 && c.CutoffTime == "" {
		return time.Time{}, false
	}
	last := due.Add(-c.CutoffDays)
	clock := cmp.Or(c.CutoffTime, "23:59")
	at, err := time.ParseInLocation("2006-01-02 15:04", string(last)+" "+clock, zone)
	return at, err == nil
}

// Promised tells whether a delivery is still ahead of a day: then its lines are promises.
func (d Due) Promised(today crop.Date) bool { return d.Day > today }

// OfStanding splits the id that a standing order's line has on a day.
func OfStanding(id crop.LineID) (template crop.LineID, day crop.Date, ok bool) {
	at := strings.LastIndexByte(string(id), '@')
	if at < 0 || !crop.Date(id[at+1:]).Valid() {
		return "", "", false
	}
	return id[:at], crop.Date(id[at+1:]), true
}
