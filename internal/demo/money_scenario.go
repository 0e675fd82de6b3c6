package demo

import "corymb/internal/crop"

// Costs, hours and habits of payment of the made-up farm. All of it is invented.

type cost struct {
	day   string
	kind  crop.CostKind
	what  string
	cents crop.Cents
	fixed bool
	// channel and bed say for what it was; -1 and empty are the whole farm.
	channel int
	bed     string
}

var costs = []cost{
	{"01-15", crop.CostGround, "Insurance, these beds’ part", 4_200, true, -1, ""},
	{"02-01", crop.CostGround, "Rent of the beds, a year", 9_000, true, -1, ""},
	{"02-20", crop.CostPlants, "Yarrow plugs, half a tray", 4_320, false, -1, ""},
	{"03-05", crop.CostSoil, "Compost, half a load", 3_250, false, -1, ""},
	{"03-12", crop.CostSupplies, "Netting, 40 m", 2_990, false, -1, ""},
	{"03-12", crop.CostTools, "A pair of snips", 2_990, true, -1, ""},
	{"03-28", crop.CostSoil, "Phosphate and potash for the phlox", 1_150, false, -1, "Elder"},
	{"04-10", crop.CostSelling, "Stall fee, the season", 5_000, true, 2, ""},
	{"04-22", crop.CostSupplies, "Sleeves and rubber bands", 2_140, false, -1, ""},
	{"05-04", crop.CostHealth, "Sulphur against mildew", 890, false, -1, "Elder"},
	{"05-18", crop.CostSupplies, "Buckets, ten", 2_900, false, -1, ""},
	{"05-30", crop.CostTransport, "Fuel, May", 1_310, false, -1, ""},
	{"06-30", crop.CostTransport, "Fuel, June", 2_030, false, -1, ""},
	{"06-30", crop.CostWater, "Well pump, power", 870, false, -1, ""},
	{"07-16", crop.CostSelling, "Cards and price tags", 1_150, false, 2, ""},
	{"07-31", crop.CostTransport, "Fuel, July", 1_220, false, -1, ""},
	{"08-31", crop.CostTransport, "Fuel, August", 960, false, -1, ""},
	{"09-12", crop.CostPlants, "Phlox, own divisions: pots and soil", 1_580, false, -1, "Elder"},
}

// chore is about so many minutes of a kind of work, by one of people.
type chore struct {
	kind    crop.WorkKind
	by      int
	minutes int
}

// On a day on which something came over the bench, and on a day of deliveries.
var (
	benchChores    = []chore{{crop.WorkCut, 0, 6}, {crop.WorkCut, 1, 7}, {crop.WorkBunch, benchHand, 6}}
	deliveryChores = []chore{{crop.WorkPack, benchHand, 5}, {crop.WorkDeliver, 0, 8}}
)

// seasonal is work that comes on days of its own.
var seasonal = []struct {
	day, bed string
	chore    chore
}{
	{"03-10", "", chore{crop.WorkPlant, 1, 60}},
	{"03-20", "Elder", chore{crop.WorkDivide, 0, 40}},
	{"04-02", "", chore{crop.WorkWeed, 1, 30}},
	{"04-16", "", chore{crop.WorkSupport, 1, 30}},
	{"04-30", "", chore{crop.WorkWeed, 1, 35}},
	{"05-14", "", chore{crop.WorkWeed, 1, 30}},
	{"06-11", "", chore{crop.WorkWeed, 1, 30}},
	{"06-24", "", chore{crop.WorkCutBack, 0, 40}},
	{"07-09", "", chore{crop.WorkWeed, 1, 30}},
	{"07-31", "", chore{crop.WorkOffice, 0, 30}},
	{"08-31", "", chore{crop.WorkOffice, 0, 20}},
}

// billed is the channel whose buyers get an invoice a month, and pooled the one that sends a statement.
const billed, pooled = 0, 1

// statementMonth is that of the pool's statement.
const statementMonth = "06"

// late is after how many days a buyer pays an invoice.
var late = map[int]int{0: 12, 1: 19, 2: 9, 3: 30}

// unpaid are the last invoices of buyers: nothing of one, a part of the other.
var unpaid = map[int]int{1: 0, 3: 40} // percent that was paid
