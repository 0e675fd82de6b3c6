// Package crop holds the nouns of a perennial cut-flower farm: beds, stocks, plantings, plants,
// visits and what was counted in them, each id and unit a type of its own.
package crop

// Ids are opaque strings. Those minted by Corymb are UUIDs (RFC 9562); those read from a
// spreadsheet are the spreadsheet's own words.
type (
	FarmID     string
	PersonID   string
	BedID      string
	StockID    string
	PlantingID string
	PlantID    string
	ColourID   string
	VisitID    string
)

// Farm is a whole farm as nouns, at one moment. Every map is keyed by the noun's own id.
type Farm struct {
	ID       FarmID
	Name     string
	Unit     LengthUnit
	Calendar Calendar
	MadeUp   bool // a demonstration: nothing in it was ever grown
	// AssumedCounted says that some plants were taken as counted because the records that were
	// brought in did not say which were.
	AssumedCounted bool
	People         map[PersonID]Person
	Colours        map[ColourID]Colour
	Beds           map[BedID]Bed
	Stocks         map[StockID]Stock
	Plantings      map[PlantingID]Planting
	Plants         map[PlantID]Plant
	Visits         map[VisitID]Visit
	Readings       map[ReadingID]Reading
	Cards          map[CardID]Card
	Sales          Sales
	Ahead          Ahead
	Money          Money
}

// NewFarm returns an empty farm in centimetres on the northern calendar year.
func NewFarm() Farm {
	return Farm{
		Unit:      Centimetres,
		Calendar:  NorthernYear,
		People:    map[PersonID]Person{},
		Colours:   map[ColourID]Colour{},
		Beds:      map[BedID]Bed{},
		Stocks:    map[StockID]Stock{},
		Plantings: map[PlantingID]Planting{},
		Plants:    map[PlantID]Plant{},
		Visits:    map[VisitID]Visit{},
		Readings:  map[ReadingID]Reading{},
		Cards:     map[CardID]Card{},
		Sales:     NewSales(),
		Ahead:     NewAhead(),
		Money:     NewMoney(),
	}
}

// Person is somebody who counts, cuts or decides.
type Person struct {
	ID   PersonID
	Name string
}

// Colour is a saleable colour class under the grower's own name.
type Colour struct {
	ID     ColourID
	Name   string
	Swatch string // how it is drawn, "#rrggbb"; set by eye until measured
	// Reference is its measured colour, where it has one, and Limit how far from it in CIEDE2000 a plant may lie
	// and still be of this class; 0 is the usual limit.
	Reference *Lab
	Limit     float64
}

// Bed is a strip of ground with numbered lines along its length.
type Bed struct {
	ID     BedID
	Name   string
	Length Millimetres
	Width  Millimetres
	Lines  int
	// CutBack holds, by season, the day on which the bed was cut back: the spring flush ends and
	// the next one opens with that day.
	CutBack map[Season]Date
}

// Origin says how the plants of a stock began.
type Origin string

// The origins of a stock.
const (
	OriginSeed     Origin = "seed"
	OriginPlug     Origin = "plug"
	OriginDivision Origin = "division"
	OriginBought   Origin = "bought"
	OriginSelfSown Origin = "self_sown" // seedlings that nobody planted
)

// Stock is a named source of plants.
type Stock struct {
	ID        StockID
	Name      string
	Species   string
	Origin    Origin
	Protected bool // may not be propagated without the right holder's licence
	// From is the stock that divisions were taken of, or that seedlings came up beside; empty where
	// it came from elsewhere.
	From StockID
}

// Planting is the plants of one stock set in one bed on one date.
type Planting struct {
	ID      PlantingID
	Stock   StockID
	Bed     BedID
	Planted Date
	// FirstSeason is stored, never guessed from Planted: set in the autumn of year Y it is Y+1,
	// set before the flush of year Y it is Y.
	FirstSeason Season
}

// Plant is one individual.
type Plant struct {
	ID       PlantID
	Code     string // what its tag says
	Planting PlantingID
	// Bed is where it was moved to since it was planted; empty means its planting's bed.
	Bed    BedID
	Line   int // 1 is the first line; 0 means no place is known
	Number int // along the line, from 1
	// Stood are its former places, the first one first; none where it never moved.
	Stood   []Stay
	Parents []PlantID
	Colour  ColourID          // empty until it was seen in bloom
	Removed Date              // empty while it stands
	Counted map[Season]Window // the seasons for which every cut stem of it is recorded
	// Reference says that it is photographed in every session, so that light and cameras are told from drift.
	Reference bool
}

// Stay is a plant's having stood in a bed until it was moved on a day.
type Stay struct {
	Bed   BedID
	Until Date // the day of the move: from then on it stood elsewhere
}

// BedOn is the bed that a plant stood in on a day, or will.
func (f Farm) BedOn(p Plant, d Date) BedID {
	for _, stay := range p.Stood {
		if d < stay.Until {
			return stay.Bed
		}
	}
	return f.BedOf(p)
}

// BedOf is the bed that a plant stands in now.
func (f Farm) BedOf(p Plant) BedID {
	if p.Bed != "" {
		return p.Bed
	}
	return f.Plantings[p.Planting].Bed
}

// Window is the declared span of days, both ends included, in which a counted plant's silence
// means that nothing was cut.
type Window struct {
	From Date
	To   Date
}

// Holds tells whether the day lies in the window.
func (w Window) Holds(d Date) bool { return w.From <= d && d <= w.To }

// Overlaps tells whether the two windows share a day.
func (w Window) Overlaps(o Window) bool { return w.From <= o.To && o.From <= w.To }

// Purpose says what a visit was made for.
type Purpose string

// The purposes of a visit. Cut, standing and nothing here are at one plant; a bed cut was counted
// in the row and a bench total in the shed, and both are of a bed.
const (
	PurposeCut         Purpose = "cut"
	PurposeStanding    Purpose = "standing"
	PurposeNothingHere Purpose = "nothing"
	PurposeBedCut      Purpose = "bed_cut"
	PurposeBench       Purpose = "bench"
)

// Flush is one wave of bloom within a season.
type Flush string

// The flushes known so far; empty means that nobody told.
const (
	FlushSpring Flush = "spring"
	FlushFall   Flush = "fall"
)

// Visit is one person at one plant (or bed) on one date for one purpose.
type Visit struct {
	ID      VisitID
	Plant   PlantID // empty for a bed cut or a bench total
	Bed     BedID
	Date    Date
	Purpose Purpose
	Person  PersonID // who counted and graded
	Flush   Flush
	// ToOrder says that the plant kept stems which nobody wanted that day: the count is then a
	// lower bound of what it bore.
	ToOrder bool
	// Planting and Age narrow a bench total to one planting; empty and 0 mean the whole bed.
	Planting PlantingID
	Age      int
	// Stage is how far the heads had opened when a bench total was cut; empty where nobody told.
	Stage  Stage
	Counts []Count
}

// Stems is the visit's total over all grades and lengths.
func (v Visit) Stems() int {
	n := 0
	for _, c := range v.Counts {
		n += c.Stems
	}
	return n
}

// Count is a number of stems of one colour class, grade and length class, any of which may be
// untold.
type Count struct {
	Colour ColourID
	Grade  Grade
	Length LengthClass
	Stems  int
}

// AgeIn is the plant's season in the ground: 1 in its planting's first season. Zero or less means
// that it was not there yet.
func (p Planting) AgeIn(s Season) int { return int(s-p.FirstSeason) + 1 }

// MostStems is the largest count that one cell of one visit to one plant may hold; a larger one is
// a slip of the finger.
const MostStems = 999

// MostBenchStems is the same for a cell of a bed cut or a bench total.
const MostBenchStems = 99_999
