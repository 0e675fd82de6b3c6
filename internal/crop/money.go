package crop

// Ids of what a farm pays, works and is paid.
type (
	CostID      string
	WorkID      string
	PaymentID   string
	StatementID string
	RowID       string
)

// Money is what a farm paid, worked and was paid. Every map is keyed by the noun's own id.
type Money struct {
	Costs      map[CostID]Cost
	Work       map[WorkID]Work
	Payments   map[PaymentID]Payment
	Statements map[StatementID]Statement
	Rows       map[RowID]StatementRow
}

// NewMoney returns a farm's books before the first entry.
func NewMoney() Money {
	return Money{
		Costs: map[CostID]Cost{}, Work: map[WorkID]Work{}, Payments: map[PaymentID]Payment{},
		Statements: map[StatementID]Statement{}, Rows: map[RowID]StatementRow{},
	}
}

// CostKind says what money was spent on.
type CostKind string

// The kinds of costs.
const (
	CostPlants    CostKind = "plants" // plugs, seed, stock
	CostSoil      CostKind = "soil"   // compost, fertiliser, mulch
	CostWater     CostKind = "water"
	CostHealth    CostKind = "health"   // what keeps pests and diseases off
	CostSupplies  CostKind = "supplies" // netting, sleeves, buckets, bands
	CostTransport CostKind = "transport"
	CostSelling   CostKind = "selling" // stalls, adverts, dues
	CostWages     CostKind = "wages"   // paid hours that nobody wrote down as work
	CostTools     CostKind = "tools"
	CostGround    CostKind = "ground" // rent, taxes, insurance
	CostOther     CostKind = "other"
)

// CostKinds are all of them, in the order in which they are offered.
var CostKinds = []CostKind{
	CostPlants, CostSoil, CostWater, CostHealth, CostSupplies, CostTransport, CostSelling, CostWages, CostTools, CostGround, CostOther,
}

// Cost is money that was spent, or the part of it that a season bears; below 0 where it came back, as a refund or a credit note
// of a supplier.
type Cost struct {
	ID    CostID
	Date  Date
	Kind  CostKind
	What  string
	Cents Cents
	Fixed bool // it would have been spent whatever was grown
	// Bed, Stock and Channel say what it was spent on, as far as it was for one; empty is the whole farm.
	Bed     BedID
	Stock   StockID
	Channel ChannelID
}

// WorkKind says what was worked at.
type WorkKind string

// The kinds of work.
const (
	WorkCut     WorkKind = "cut"
	WorkBunch   WorkKind = "bunch"
	WorkPack    WorkKind = "pack"
	WorkDeliver WorkKind = "deliver"
	WorkSell    WorkKind = "sell"
	WorkPlant   WorkKind = "plant"
	WorkDivide  WorkKind = "divide"
	WorkWeed    WorkKind = "weed"
	WorkSupport WorkKind = "support" // corral or net
	WorkCutBack WorkKind = "cut_back"
	WorkOffice  WorkKind = "office"
	WorkOther   WorkKind = "other"
)

// WorkKinds are all of them, in the order in which they are offered.
var WorkKinds = []WorkKind{
	WorkCut, WorkBunch, WorkPack, WorkDeliver, WorkSell, WorkPlant, WorkDivide, WorkWeed, WorkSupport, WorkCutBack, WorkOffice, WorkOther,
}

// Work is minutes that somebody worked on a day, timed or written down.
type Work struct {
	ID      WorkID
	Date    Date
	Person  PersonID
	Kind    WorkKind
	Minutes int
	Bed     BedID     // empty is no one bed
	Channel ChannelID // for whom, where it was for one channel
	Note    string
}

// Payment is money that came for an invoice; below 0 where it was paid back.
type Payment struct {
	ID      PaymentID
	Invoice InvoiceID
	// Order is what was paid for before any invoice was made, as of sales that were read in; empty for payments of an invoice.
	// It counts for the first invoice that has a line of it.
	Order OrderID
	Date  Date
	Cents Cents
	Note  string
}

// Statement is what a channel says it sold, such as a co-op at a month's end.
type Statement struct {
	ID      StatementID
	Channel ChannelID
	From    Date
	To      Date
	Paid    Date  // the day on which its money came; empty while it is awaited
	Cents   Cents // the sum at its foot, as it is printed
	Note    string
}

// StatementRow is one row of a statement.
type StatementRow struct {
	ID        RowID
	Statement StatementID
	Place     int // of its row on the paper, from 1
	Date      Date
	Words     string // as printed
	Bunches   int
	Cents     Cents // before what the channel keeps
	Kept      Cents
	// Line and Due are the delivery that it is of, where a person said so; empty is found by what it says.
	Line LineID
	Due  Date
	// Settled says that a person looked at how it differs and let it stand. With a line and without bunches and cents it
	// is no row of the paper: it says that the delivery is on none, and that this may stand.
	Settled bool
}
