package crop

// Ids of what lies ahead.
type (
	AskID    string
	TaskID   string // "season.kind.of" of a task that follows from what grows; any other text of a grower's own
	IntentID string // "season.plant"
)

// Ahead is what a farm was asked for and means to do, and what it goes by. Every map is keyed by the noun's own id.
type Ahead struct {
	Warmth Warmth
	Costs  DivisionCosts
	Asks   map[AskID]Ask
	// Weather is in degrees Celsius.
	Weather map[Date]Weather
	// WeatherWrong are the days whose lowest temperature was told above the highest, as where two people told them
	// apart: there to be put right, and nothing to reckon with.
	WeatherWrong map[Date]Weather
	Tasks        map[TaskID]Task
	Intents      map[IntentID]Intent
	Plans        map[Season]Plan
}

// NewAhead returns what lies ahead of a farm that was asked for nothing yet.
func NewAhead() Ahead {
	return Ahead{
		Warmth: UsualWarmth, Costs: UsualDivisionCosts, Asks: map[AskID]Ask{}, Weather: map[Date]Weather{}, WeatherWrong: map[Date]Weather{},
		Tasks: map[TaskID]Task{}, Intents: map[IntentID]Intent{}, Plans: map[Season]Plan{},
	}
}

// AskAnswer is what became of an ask.
type AskAnswer string

// The answers to an ask.
const (
	AskOpen          AskAnswer = ""
	AskPromised      AskAnswer = "promised"
	AskDeclined      AskAnswer = "declined"
	AskWentElsewhere AskAnswer = "went_elsewhere"
)

// Ask is stems that somebody would buy, promised or not.
type Ask struct {
	ID      AskID
	Buyer   BuyerID // empty where nobody in the book asked
	Note    string
	Stems   int
	Colours []ColourID  // any of these; none is any colour
	Grade   Grade       // at least; untold is any but out
	Length  Millimetres // at least; 0 is any
	// From and Due are the same for a day, and Monday and Sunday of a week of which any day will do.
	From, Due Date
	Taken     Date // the day on which it came
	Person    PersonID
	Answer    AskAnswer
	Offered   int     // stems
	Chance    int     // that was told with the answer, per mille; 0 is none
	Order     OrderID // of what was promised
	Price     Cents   // a stem
}

// Unmet are the stems of it that nobody promised: of an ask that is open, all of them.
func (a Ask) Unmet() int {
	if a.Answer != AskPromised {
		return a.Stems
	}
	return max(0, a.Stems-a.Offered)
}

// ComesAgain tells whether a division plan made on a day takes an ask to come again: it was of the year before, nobody met
// all of it, and it may not be met any more.
func (a Ask) ComesAgain(on Date) bool {
	const year = 365
	open := a.Answer == AskOpen && a.Due >= on
	return a.Unmet() > 0 && !open && a.Due <= on && a.Due.DaysTo(on) < year
}

// DegreeUnit is how temperatures are shown.
type DegreeUnit string

// The units of temperature.
const (
	Celsius    DegreeUnit = "c"
	Fahrenheit DegreeUnit = "f"
)

// WarmMethod names a way to reckon degree-days, as package degreedays reads it.
type WarmMethod string

// The ways to reckon degree-days.
const (
	WarmSine    WarmMethod = "sine"
	WarmAverage WarmMethod = "average"
)

// Warmth is how a farm reckons with warmth. Lower and Upper are degrees Celsius; what was told apart may leave Upper
// no higher than Lower.
type Warmth struct {
	Degrees      DegreeUnit
	Lower, Upper float64
	Method       WarmMethod
}

// UsualWarmth is how warmth is reckoned with where a farm says nothing: between 10 and 30 degrees (common practice, no
// source).
var UsualWarmth = Warmth{Degrees: Celsius, Lower: 10, Upper: 30, Method: WarmSine}

// UsualBreakCost is what a broken promise costs where a farm says nothing, in percent of the price of its stems: then a
// promise pays that is kept at nine in ten.
const UsualBreakCost = 900

// TaskKind says what is to be done.
type TaskKind string

// The kinds of tasks.
const (
	TaskCorral       TaskKind = "corral" // or net
	TaskFirstLook    TaskKind = "first_look"
	TaskHeavyWeek    TaskKind = "heavy_week"
	TaskCutBack      TaskKind = "cut_back"
	TaskDeadhead     TaskKind = "deadhead"
	TaskDivide       TaskKind = "divide"
	TaskLabelMothers TaskKind = "label_mothers"
	TaskOrderPlugs   TaskKind = "order_plugs"
	TaskStandWalk    TaskKind = "stand_walk"
	TaskOwn          TaskKind = "own" // in the grower's words
)

// TaskKinds are those that follow from what grows: all but a grower's own.
var TaskKinds = []TaskKind{
	TaskCorral, TaskFirstLook, TaskHeavyWeek, TaskCutBack, TaskDeadhead, TaskDivide, TaskLabelMothers, TaskOrderPlugs,
	TaskStandWalk,
}

// Task is what was said of a task; of one that follows from what grows nothing is said before somebody does it, puts it
// off or drops it.
type Task struct {
	ID      TaskID
	Kind    TaskKind
	Bed     BedID
	Due     Date // of a grower's own, and of one that was put off
	What    string
	Done    Date // empty while it is not
	Person  PersonID
	Dropped bool
}

// IntentDo says what is to become of a plant.
type IntentDo string

// What may become of a plant.
const (
	DoKeep    IntentDo = "keep"
	DoDivide  IntentDo = "divide"
	DoLift    IntentDo = "lift"
	DoReplace IntentDo = "replace"
)

// Intent is what was decided for a plant in a season, and what was expected of it in the next.
type Intent struct {
	ID     IntentID
	Season Season
	Plant  PlantID
	Do     IntentDo
	Into   int // plants, where it is divided
	Why    []string
	Made   Date
	Done   Date // empty while it is not
	Person PersonID
	Stems  ExpectedStems
	Value  ExpectedCents
}

// ExpectedStems is how many stems were expected, and between which numbers.
type ExpectedStems struct{ Mean, Lo, Hi int }

// ExpectedCents is how much money was expected, and between which amounts.
type ExpectedCents struct{ Mean, Lo, Hi Cents }

// Plan is what a season's division plan was made for.
type Plan struct {
	Season  Season
	Goal    int // hundredths of the stems of before: 150 is half as many again
	Seasons int // in which to reach it
	Places  int
	Minutes int // of work
	Chance  int // stated, per mille
	Made    Date
	Net     Cents
}
