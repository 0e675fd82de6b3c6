package yield

import (
	"slices"

	"corymb/internal/crop"
)

// Denominators are the counts of plants by which the stems of one season in the ground may be divided: a
// yield per plant means little before it is said per which. They are of listed plants of one age in one
// season that has begun.
type Denominators struct {
	Age    int         `json:"age"`
	Season crop.Season `json:"season"` // 0 for a sum over several
	// SetOut are the plants of all plantings that came to this age, dead ones and wholly dead plantings
	// included; plants that were divided, and plantings that were cleared, before it are not.
	SetOut int `json:"set_out"`
	// AtStart are those that stood when the season began.
	AtStart int `json:"at_start"`
	// CutFrom are those from which at least one stem is recorded as theirs. What only a bench total
	// holds is no plant's, so plants that nobody counts are mostly missing here.
	CutFrom int `json:"cut_from"`
	// Counted are those of AtStart that were counted that season, and CountedCutFrom those of them that
	// gave a stem: the two that go with stems of counted plants.
	Counted        int `json:"counted"`
	CountedCutFrom int `json:"counted_cut_from"`
	// Running says that the season still runs, so that CutFrom may grow.
	Running bool `json:"running"`
}

func (d *Denominators) add(o Denominators) {
	d.SetOut += o.SetOut
	d.AtStart += o.AtStart
	d.CutFrom += o.CutFrom
	d.Counted += o.Counted
	d.CountedCutFrom += o.CountedCutFrom
	d.Running = d.Running || o.Running
}

// Plants sums the denominators of an age over the seasons given, those whose stems are to be divided, or
// over all where none is given.
func (s Survival) Plants(age int, seasons ...crop.Season) Denominators {
	sum := Denominators{Age: age}
	for _, d := range s.Denominators {
		if d.Age == age && (len(seasons) == 0 || slices.Contains(seasons, d.Season)) {
			sum.add(d)
		}
	}
	return sum
}

// denominators sums rows, which stand by age and then season. Ages that no plant began are left out.
func denominators(rows []standing) []Denominators {
	list, last := []Denominators{}, oldest(rows)
	for _, r := range rows {
		if r.age > last {
			break
		}
		if n := len(list); n == 0 || list[n-1].Age != r.age || list[n-1].Season != r.season {
			list = append(list, Denominators{Age: r.age, Season: r.season})
		}
		list[len(list)-1].add(Denominators{
			SetOut: r.setOut, AtStart: r.start, CutFrom: r.cutFrom,
			Counted: r.counted, CountedCutFrom: r.countedCutFrom, Running: r.open,
		})
	}
	return list
}
