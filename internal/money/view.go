package money

import (
	"maps"
	"slices"
	"strconv"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// Dim is what the ledger can be added up by.
type Dim string

// The dimensions of views.
const (
	ByChannel  Dim = "channel"
	ByBuyer    Dim = "buyer"
	ByColour   Dim = "colour"
	ByGrade    Dim = "grade"
	ByLength   Dim = "length" // "low-high" in millimetres
	ByAge      Dim = "age"    // exact
	ByAgeClass Dim = "age_class"
	ByStock    Dim = "stock"
	ByBed      Dim = "bed"
	ByPlant    Dim = "plant"
	ByCut      Dim = "cut"
	ByDay      Dim = "day"
	ByWeek     Dim = "week" // by its Monday
	ByMonth    Dim = "month"
	ByWhat     Dim = "what" // kinds of costs and work, reasons of claims and shrink
)

// keys name an entry's place in each dimension; empty is untold.
var keys = map[Dim]func(Entry) string{
	ByChannel:  func(e Entry) string { return string(e.Channel) },
	ByBuyer:    func(e Entry) string { return string(e.Buyer) },
	ByColour:   func(e Entry) string { return string(e.Colour) },
	ByGrade:    func(e Entry) string { return string(e.Grade) },
	ByLength:   func(e Entry) string { return lengthKey(e.Length) },
	ByAge:      func(e Entry) string { return ageKey(e.Age) },
	ByAgeClass: func(e Entry) string { return ageClassKey(e.Age) },
	ByStock:    func(e Entry) string { return string(e.Stock) },
	ByBed:      func(e Entry) string { return string(e.Bed) },
	ByPlant:    func(e Entry) string { return string(e.Plant) },
	ByCut:      func(e Entry) string { return string(e.Cut) },
	ByDay:      func(e Entry) string { return string(e.Day) },
	ByWeek:     func(e Entry) string { return string(e.Day.Monday()) },
	ByMonth:    func(e Entry) string { return string(e.Day[:min(7, len(e.Day))]) },
	ByWhat:     func(e Entry) string { return e.What },
}

// Dims are all dimensions, by name.
func Dims() []Dim { return slices.Sorted(maps.Keys(keys)) }

// Known tells whether the ledger can be added up by it.
func (d Dim) Known() bool { return keys[d] != nil }

func lengthKey(l crop.LengthClass) string {
	if !l.Told() {
		return ""
	}
	return strconv.Itoa(int(l.Lo)) + "-" + strconv.Itoa(int(l.Hi))
}

func ageKey(age int) string {
	if age < 1 {
		return ""
	}
	return strconv.Itoa(age)
}

// oldest and older are one class of age.
const oldest = 3

func ageClassKey(age int) string {
	if age >= oldest {
		return "3+"
	}
	return ageKey(age)
}

// Filter keeps entries that lie in all of the named places, and on the days from one to another. A place named "" holds what
// is untold; an empty day is no bound.
type Filter struct {
	Is       map[Dim]string
	From, To crop.Date
}

func (f Filter) holds(e Entry) bool {
	if f.From != "" && e.Day < f.From || f.To != "" && e.Day > f.To {
		return false
	}
	for dim, key := range f.Is {
		if keys[dim](e) != key {
			return false
		}
	}
	return true
}

// Sums are a part of the ledger added up. All amounts are as they are spoken of: what went is above 0 too.
type Sums struct {
	Stems    int // sold
	Bunches  int // thousandths
	Gross    crop.Cents
	Kept     crop.Cents
	Fees     crop.Cents
	FeesPaid crop.Cents
	Claims   crop.Cents
	Costs    crop.Cents // of both kinds
	Fixed    crop.Cents // of these, those that are fixed
	Work     crop.Cents
	Minutes  int
	// ShrunkStems and Shrunk are written off, and what they would have brought; in no other sum.
	ShrunkStems int
	Shrunk      crop.Cents
}

// Net is what sales left: after what channels kept, bringing and claims.
func (s Sums) Net() crop.Cents { return s.Gross - s.Kept - s.Fees + s.FeesPaid - s.Claims }

// Left is what is left of that after costs and work.
func (s Sums) Left() crop.Cents { return s.Net() - s.Costs - s.Work }

// PriceAStem is what a stem went for, in cents before anything is taken off; false where none was sold.
func (s Sums) PriceAStem() (float64, bool) {
	return float64(s.Gross) / float64(s.Stems), s.Stems > 0
}

// AnHour is what each hour of the work that was told brought, in cents after costs and before it is paid; false where none
// was.
func (s Sums) AnHour() (float64, bool) {
	const inAnHour = 60
	return float64(s.Net()-s.Costs) * inAnHour / float64(s.Minutes), s.Minutes > 0
}

func (s *Sums) add(e Entry) {
	switch e.Kind {
	case Sold:
		s.Gross, s.Stems, s.Bunches = s.Gross+e.Cents, s.Stems+e.Stems, s.Bunches+e.Bunches
	case Kept:
		s.Kept -= e.Cents
	case Fee:
		s.Fees -= e.Cents
	case FeePaid:
		s.FeesPaid += e.Cents
	case Claimed:
		s.Claims -= e.Cents
	case Spent:
		s.Costs -= e.Cents
	case Fixed:
		s.Costs, s.Fixed = s.Costs-e.Cents, s.Fixed-e.Cents
	case Worked:
		s.Work, s.Minutes = s.Work-e.Cents, s.Minutes+e.Minutes
	case Shrunk:
		s.Shrunk, s.ShrunkStems = s.Shrunk+e.Cents, s.ShrunkStems+e.Stems
	}
}

// Row is what lies in one place of a dimension.
type Row struct {
	Key string // empty is untold
	Sums
	Share  int // of what all came to before anything was taken off, in hundredths of a percent; they add up to 10,000
	Ground *Ground
}

// View is the ledger added up by a dimension.
type View struct {
	By   Dim
	Rows []Row // by key
	All  Row
}

// By adds up what a filter keeps of the ledger. The rows add up to All to the cent. A bed, stock, age or colour class that
// stood and brought nothing has a row too.
func (b *Books) By(dim Dim, f Filter) View {
	at := map[string]int{}
	v := View{By: dim, Rows: []Row{}}
	key := keys[dim]
	for _, e := range b.Entries {
		if !f.holds(e) {
			continue
		}
		k := key(e)
		i, known := at[k]
		if !known {
			i = len(v.Rows)
			at[k] = i
			v.Rows = append(v.Rows, Row{Key: k})
		}
		v.Rows[i].add(e)
		v.All.add(e)
	}
	b.ground.lay(&v, f)
	slices.SortFunc(v.Rows, func(a, b Row) int { return compareKeys(dim, a.Key, b.Key) })
	v.share()
	return v
}

// compareKeys orders ages by number and all else by letters.
func compareKeys(dim Dim, a, b string) int {
	if dim == ByAge && len(a) != len(b) {
		return len(a) - len(b)
	}
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func (v *View) share() {
	const whole = 10_000
	weights := make([]int64, len(v.Rows))
	all := int64(0)
	for i, row := range v.Rows {
		weights[i] = int64(max(0, row.Gross))
		all += weights[i]
	}
	if all == 0 {
		return
	}
	v.All.Share = whole
	for i, part := range selling.PartsOf(whole, weights) {
		v.Rows[i].Share = int(part)
	}
}
