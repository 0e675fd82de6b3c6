package crop

// Ids of what is sold and to whom.
type (
	ChannelID  string
	BuyerID    string
	PriceID    string
	BunchID    string
	OrderID    string
	LineID     string
	StandingID string
	PackedID   string
	ShrinkID   string
	ClaimID    string
	InvoiceID  string
)

// Sales are what a farm sells, to whom and for how much. Every map is keyed by the noun's own id.
type Sales struct {
	Terms     SaleTerms
	Channels  map[ChannelID]Channel
	Buyers    map[BuyerID]Buyer
	Bunches   map[BunchID]Bunch
	Prices    map[PriceID]Price
	Orders    map[OrderID]Order
	Standings map[StandingID]StandingOrder
	Lines     map[LineID]Line
	Packed    map[PackedID]Packed
	Shrink    map[ShrinkID]Shrink
	Claims    map[ClaimID]Claim
	Invoices  map[InvoiceID]Invoice
	// Gone are buyers, channels, orders and lines that were deleted: orders, prices and invoices may still name them.
	Gone Gone
}

// Gone are deleted nouns as they were.
type Gone struct {
	Channels map[ChannelID]Channel
	Buyers   map[BuyerID]Buyer
	Orders   map[OrderID]Order
	Lines    map[LineID]Line
}

// NewSales returns a farm's sales before the first buyer.
func NewSales() Sales {
	return Sales{
		Channels: map[ChannelID]Channel{}, Buyers: map[BuyerID]Buyer{}, Bunches: map[BunchID]Bunch{},
		Prices: map[PriceID]Price{}, Orders: map[OrderID]Order{}, Standings: map[StandingID]StandingOrder{},
		Lines: map[LineID]Line{}, Packed: map[PackedID]Packed{}, Shrink: map[ShrinkID]Shrink{},
		Claims: map[ClaimID]Claim{}, Invoices: map[InvoiceID]Invoice{},
		Gone: Gone{Channels: map[ChannelID]Channel{}, Buyers: map[BuyerID]Buyer{}, Orders: map[OrderID]Order{}, Lines: map[LineID]Line{}},
	}
}

// Cents are whole hundredths of the farm's currency.
type Cents int64

// MostCents is the largest amount that one price, fee, floor or credit may be; a larger one is a slip.
const MostCents Cents = 100_000_000

// ChannelKind says which way stems go.
type ChannelKind string

// The kinds of channels.
const (
	ChannelWholesale ChannelKind = "wholesale"
	ChannelCoOp      ChannelKind = "co_op"
	ChannelRetail    ChannelKind = "retail"
	ChannelBouquet   ChannelKind = "bouquet"
	ChannelEvent     ChannelKind = "event"
	ChannelDried     ChannelKind = "dried"
)

// ChannelKinds are all of them, in the order in which they are offered.
var ChannelKinds = []ChannelKind{
	ChannelWholesale, ChannelCoOp, ChannelRetail, ChannelBouquet, ChannelEvent, ChannelDried,
}

// Channel is a way to sell, with what it takes and what it needs.
type Channel struct {
	ID   ChannelID
	Name string
	Kind ChannelKind
	// Floor is the least that a stem of a grade may go for, before commission; none where there is none.
	Floor map[Grade]Cents
	// Commission is what the channel keeps of the price, in hundredths of a percent.
	Commission int
	// Fee is what bringing one order costs, and whether the buyer pays it on the invoice.
	Fee        Cents
	BuyerPays  bool
	CutoffDays int      // orders close so many days before the delivery
	CutoffTime string   // at this time of the farm's day, "HH:MM"; empty is the day's end
	Days       Weekdays // on which it is delivered to; none is any day
}

// Weekdays are days of the week as the digits of ISO 8601, 1 for Monday to 7 for Sunday, in order.
type Weekdays string

// Buyer is somebody who buys by the bunch.
type Buyer struct {
	ID      BuyerID
	Name    string
	Channel ChannelID
	Address string // lines, as on an envelope
	Phone   string
	Email   string
	Note    string
	// Accepts says which colour classes the buyer takes where one that they asked for is short.
	Accepts map[ColourID][]ColourID
}

// Bunch is a rule for tying bunches, such as ten of a grade and length, or a seconds bunch of more stems.
type Bunch struct {
	ID     BunchID
	Name   string
	Stems  int
	Grade  Grade       // at least; untold is any but out
	Length Millimetres // at least; 0 is any
}

// Price is what a bunch costs from a day on, until one that begins later.
type Price struct {
	ID      PriceID
	Channel ChannelID
	Buyer   BuyerID  // empty is every buyer of the channel
	Colour  ColourID // empty is every colour class
	Bunch   BunchID
	From    Date
	Cents   Cents // a bunch
}

// Order is what a buyer wants on a day. A line of it that is not due yet is a promise.
type Order struct {
	ID    OrderID
	Buyer BuyerID
	Due   Date
	Taken Date
	Note  string
}

// Line is one wish of an order, or of a standing order.
type Line struct {
	ID       LineID
	Order    OrderID    // empty where it belongs to a standing order
	Standing StandingID // empty where it belongs to an order
	Bunch    BunchID    // by which rule; empty where its own numbers say all
	Bunches  int        // wanted
	Stems    int        // a bunch
	Grade    Grade      // at least; untold is any but out
	Length   Millimetres
	Colours  []ColourID // any of these may be mixed in a bunch; none is any colour
	Whole    bool       // all of the bunches or none
	Exact    bool       // nothing in place of a colour class, whatever the buyer accepts otherwise
	Price    Cents      // a bunch; 0 is not agreed yet
}

// StandingOrder is an order that comes again on some days of every week, or of every so many weeks.
type StandingOrder struct {
	ID    StandingID
	Buyer BuyerID
	From  Date
	Until Date // the last day; empty is without end
	Days  Weekdays
	Every int // weeks, counted from the week of From; 1 is every week
	Skips []Date
	Note  string
}

// LotID names the stems of a bed, cut day, colour class, grade and length class that lie in the cooler.
type LotID struct {
	Bed    BedID
	Cut    Date
	Colour ColourID
	Grade  Grade
	Length LengthClass
}

// Packed is what one device packed for one line on one day: whole bunches and of which lots their stems came.
type Packed struct {
	ID      PackedID
	Line    LineID
	Buyer   BuyerID
	Due     Date
	Date    Date
	Person  PersonID
	Bunches int
	Stems   map[LotID]int
}

// ShrinkReason says why stems are sold to nobody.
type ShrinkReason string

// The reasons of shrink.
const (
	ShrinkWilted   ShrinkReason = "wilted"
	ShrinkBroken   ShrinkReason = "broken"
	ShrinkDiseased ShrinkReason = "diseased"
	ShrinkOpen     ShrinkReason = "too_open"
	ShrinkOld      ShrinkReason = "too_old"
	ShrinkGiven    ShrinkReason = "given_away"
	ShrinkMissing  ShrinkReason = "not_there"
	ShrinkOther    ShrinkReason = "other"
)

// Shrink is stems of a lot that were written off.
type Shrink struct {
	ID     ShrinkID
	Lot    LotID
	Stems  int
	Reason ShrinkReason
	What   string
	Date   Date
	Person PersonID
}

// ClaimReason says what a buyer found wrong.
type ClaimReason string

// The reasons of claims.
const (
	ClaimShattered ClaimReason = "shattered"
	ClaimWilted    ClaimReason = "wilted"
	ClaimColour    ClaimReason = "colour"
	ClaimShort     ClaimReason = "short"
	ClaimMissing   ClaimReason = "missing"
	ClaimDiseased  ClaimReason = "diseased"
	ClaimUnsold    ClaimReason = "unsold"
	ClaimOther     ClaimReason = "other"
)

// Claim is what a buyer found wrong with bunches that were packed, or sent back.
type Claim struct {
	ID     ClaimID
	Line   LineID
	Buyer  BuyerID
	Due    Date   // of the order
	Lot    *LotID // nil where nobody knows which
	Stems  int
	Reason ClaimReason
	Back   bool // the stems came back
	Credit Cents
	What   string
	Date   Date
	Person PersonID
}

// Invoice is a bill as it was written: its number came from the server, and nothing of it follows later prices.
type Invoice struct {
	ID       InvoiceID
	Number   string
	Buyer    BuyerID
	Date     Date
	PayBy    Date
	Currency string
	TaxRate  int // hundredths of a percent
	Lines    []InvoiceLine
	Void     Date // the day on which it was called void; empty while it stands
	// Credits is the invoice that this one takes back, in whole or part; empty for a bill.
	Credits InvoiceID
	// Claim is what a credit note is of; empty for all others.
	Claim ClaimID
	// Tax is what a credit note takes back of tax, 0 or less; nil where it is worked out of the rows, as of every bill.
	Tax *Cents
	// Head is what its paper said when it was made; nil on those of before that was kept.
	Head *InvoiceHead
}

// InvoiceHead is what a paper says beside its rows: whatever becomes of the buyer and the farm's terms, it stays.
type InvoiceHead struct {
	BuyerName, Address string
	Seller             string
	TaxName            string // empty for the word for tax in the language of whoever prints it
}

// InvoiceLine is one row of a bill.
type InvoiceLine struct {
	Line    LineID // empty for a fee
	Due     Date
	Bunches int
	Stems   int // a bunch
	Cents   Cents
	Words   string
}

// SaleTerms are the farm's own settings for selling.
type SaleTerms struct {
	Currency   string // ISO 4217; empty is told without one
	Seller     string // lines that stand on papers
	CoolerDays int    // days of vase life that a stem has on the day it is cut; 0 is the usual seven
	OverCut    int    // percent cut beyond what is due, for shrink
	PayDays    int
	TaxRate    int // hundredths of a percent
	TaxName    string
	BreakCost  int // what a broken promise costs, percent of the price of its stems; 0 is the usual
}

// UsualCoolerDays is for how many days after its cut a stem is offered where the farm says nothing (common practice,
// no source).
const UsualCoolerDays = 7
