// Package packing plans which stems go to which buyers: of all plans of whole bunches that keep every rule, one that
// brings most.
package packing

// Day is what there is to pack, and who would take it.
type Day struct {
	Name   string
	Grades []string // from the lowest to the highest
	Supply []Supply
	Demand []Demand
}

// Supply is a class of stems on hand.
type Supply struct {
	ID       string
	Grade    string
	LengthMM int64 // the lower bound of its length class
	Colour   string
	Stems    int64
	Floor    int64  // cents: no stem goes for less
	Cut      string // the day, as 2026-06-30, empty where it is not known
}

// Demand is a line of an order, or a channel that would take bunches.
type Demand struct {
	ID           string
	Channel      string
	MinGrade     string
	MinLengthMM  int64
	Colours      []string // any, where empty
	Bunch        int64    // stems
	Price        int64    // cents a bunch
	MinBunches   int64    // are packed before anything else
	MaxBunches   int64
	AllOrNothing bool
	Refused      bool   // nothing goes there
	Pinned       *int64 // so many bunches go there, whatever they bring
}

// Plan is what to pack.
type Plan struct {
	Revenue    int64            `json:"revenue_cents"`
	Bound      int64            `json:"bound_cents"` // no plan brings more
	Proven     bool             `json:"proven"`
	Seconds    float64          `json:"seconds"`
	Lines      []Packed         `json:"lines"`
	Unsold     []Stems          `json:"unsold"`
	Shortfalls []Shortfall      `json:"shortfalls"`
	OneStem    map[string]int64 `json:"one_more_cents"`       // what one stem more of a supply would bring
	OneBunch   map[string]int64 `json:"one_more_bunch_cents"` // what a buyer who takes one bunch more would bring
	TopDown    TopDown          `json:"top_down"`
	Warnings   []Note           `json:"warnings"`
	Nodes      int64            `json:"-"` // parts of the search that were looked at
}

// Packed is the bunches of a line, and where their stems come from.
type Packed struct {
	ID      string  `json:"id"`
	Bunches int64   `json:"bunches"`
	Stems   []Stems `json:"stems"`
}

// Stems is so many of a supply.
type Stems struct {
	Supply string `json:"supply"`
	Stems  int64  `json:"stems"`
}
