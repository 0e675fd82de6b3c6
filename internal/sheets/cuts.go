package sheets

import (
	"strings"

	"corymb/internal/crop"
)

// cutColumns are the columns of cuts.csv.
var cutColumns = []column{
	{name: "date", required: true},
	{name: "plant", required: true},
	{name: "stock", required: true},
	{name: "bed", required: true},
	{name: "planted", required: true},
	{name: "age", required: true},
	{name: "flush", required: true},
	{name: "grade", required: true},
	{name: "length_cm", required: true},
	{name: "stems", required: true},
	{name: "colour"},
	{name: "grader"},
}

// cut is one row of cuts.csv: stems of one grade and length, of one plant or, on the bench, of one
// bed. A field that was refused is empty.
type cut struct {
	row  *row
	date crop.Date
	// season is that of the date, or 0.
	season crop.Season
	// bench says that the row names no plant: everything cut from the bed that day, the stems of
	// counted plants included.
	bench   bool
	bed     crop.BedID
	stock   crop.StockID
	planted crop.Date
	age     int // 0 where untold
	flush   crop.Flush
	count   crop.Count
	grader  crop.PersonID

	// plant is nil for a bench total, and where the plant is unknown.
	plant *plantRow
	// plantings are those of which the stems can be: one for a plant's row, several for a bench
	// total that does not tell more than its bed.
	plantings []*planting
}

// onlyPlanting is the planting that the row must be of, or nil where it can be of several or where
// the planting's own rows contradict each other.
func (c *cut) onlyPlanting() *planting {
	if len(c.plantings) != 1 || c.plantings[0].unsure {
		return nil
	}
	return c.plantings[0]
}

// readCuts reads every row and compares it with the plants. First seasons are settled in between,
// since ages in the cuts can tell them.
func readCuts(t *table, l *plantList, s settings) []*cut {
	cuts := make([]*cut, 0, len(t.rows))
	seasons := map[crop.Date]crop.Season{"": 0} // many rows, few days
	for _, r := range t.rows {
		c := readCut(r, s.today)
		season, known := seasons[c.date]
		if !known {
			season = s.calendar.SeasonOf(c.date)
			seasons[c.date] = season
		}
		c.season = season
		cuts = append(cuts, c)
		if l.readable {
			l.match(c)
		}
	}
	l.settleFirstSeasons(cuts, s.calendar)
	for _, c := range cuts {
		l.checkTimes(c)
	}
	return cuts
}

// longestStem is the largest length_cm taken: no cut flower in a bed is longer than 3 m.
const longestStem = 300

// readCut reads one row by itself; a bench total may leave stock, planted and age empty.
func readCut(r *row, today crop.Date) *cut {
	c := &cut{
		row:    r,
		bench:  r.cell("plant") == "",
		bed:    crop.BedID(r.need("bed")),
		stock:  crop.StockID(r.cell("stock")),
		flush:  readFlush(r),
		grader: crop.PersonID(r.cell("grader")),
	}
	if r.need("date") != "" {
		c.date = r.past("date", today)
	}
	c.planted = r.past("planted", today)
	c.age, _ = r.whole("age", 1, maxAge)
	// A plant's row repeats what plants.csv says: a slip in the plant's name then shows.
	if !c.bench {
		r.need("stock")
		r.need("planted")
		r.need("age")
	}
	c.count = readCount(r, c.bench)
	return c
}

// maxAge only keeps numbers sane: what the age must be follows from the planting.
const maxAge = 200

// readCount reads the stems and what they were; grade and length may be untold.
func readCount(r *row, bench bool) crop.Count {
	most := crop.MostStems
	if bench {
		most = crop.MostBenchStems
	}
	count := crop.Count{Colour: crop.ColourID(r.cell("colour"))}
	count.Stems, _ = r.needWhole("stems", 0, most)
	if cm, ok := r.whole("length_cm", 0, longestStem); ok {
		count.Length = crop.TenCentimetres(cm)
	}
	count.Grade = readGrade(r)
	return count
}

// grades and flushes are read by our own words, and by those that the Spanish tables have in their place.
var grades = map[string]crop.Grade{
	"": "", "extra": crop.GradeExtra,
	"first": crop.GradeFirst, "primera": crop.GradeFirst,
	"second": crop.GradeSecond, "segunda": crop.GradeSecond,
	"out": crop.GradeOut, "descarte": crop.GradeOut,
}

var flushes = map[string]crop.Flush{
	"spring": crop.FlushSpring, "primavera": crop.FlushSpring,
	"fall": crop.FlushFall, "otoño": crop.FlushFall,
}

// readGrade reads a grade in any case of letters; an empty cell is untold.
func readGrade(r *row) crop.Grade {
	text := r.cell("grade")
	grade, known := grades[strings.ToLower(text)]
	if !known {
		r.refuse("grade", "%s is not a grade: use extra, first, second or out, or leave the cell empty", quote(text))
	}
	return grade
}

// readFlush reads the wave of bloom, in any case of letters.
func readFlush(r *row) crop.Flush {
	text := r.need("flush")
	flush, known := flushes[strings.ToLower(text)]
	if !known && text != "" {
		r.refuse("flush", "%s is not a flush: use spring or fall", quote(text))
	}
	return flush
}
