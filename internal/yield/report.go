package yield

import "corymb/internal/crop"

// Report is the fitted model of one farm or one pair of files, as it is printed and sent. Every
// number in it is finite, or null with a flat prior.
type Report struct {
	Level float64 `json:"level"`
	// Prior is how the models were fitted: by common practice and the farm's own counts, or flat.
	Prior Prior `json:"prior"`
	Ages  []Age `json:"ages"`
	// Plants is what each counted plant is like, beside the others; empty with a flat prior.
	Plants []PlantWorth `json:"plants,omitempty"`
	// Spread says how plants, seasons, plantings, beds and graders differ.
	Spread *Spread `json:"spread,omitempty"`
	// Survival is the chance that a plant lives from one season to the next.
	Survival *Survival `json:"survival,omitempty"`
	// Rests says how the intervals of each model were found.
	Rests []Rest `json:"rests,omitempty"`
	// The flat models are there with a flat prior only.
	StemsModel  *FlatStems   `json:"stems_model,omitempty"`
	GradeModel  *FlatGrades  `json:"grade_model,omitempty"`
	LengthModel *FlatLengths `json:"length_model,omitempty"`
	Notes       []Note       `json:"notes"`

	stems *stemsModel // nil but of a fit by common practice
}

// Age is what plants give in one season in the ground.
type Age struct {
	Age int `json:"age"`
	// PlantSeasons counts the plants behind Stems, a plant once for each season; Zero those of them
	// from which nothing was cut. Open plant-seasons are in neither.
	PlantSeasons int   `json:"plant_seasons"`
	Zero         int   `json:"zero"`
	Stems        Stems `json:"stems"`
	// StemsTotal is everything cut at this age as far as anyone told, from all plants.
	StemsTotal int `json:"stems_total"`
	// Alive is the living plant-seasons over which Stems is the mean, counted or not; SetOut the plants set
	// out in their plantings; CutFrom those of PlantSeasons that gave a stem.
	Alive   int           `json:"alive"`
	SetOut  int           `json:"set_out"`
	CutFrom int           `json:"cut_from"`
	Seasons []SeasonStems `json:"seasons,omitempty"`
	Beds    []BedStems    `json:"beds,omitempty"`
	// Ahead is the mean in another season, of another planting in another bed.
	Ahead *Interval `json:"ahead,omitempty"`
	// Plain is what the counted plants gave on average, and Practice what common practice says of the mean.
	Plain    *float64                `json:"plain,omitempty"`
	Practice *Interval               `json:"practice,omitempty"`
	Grades   []GradeCell             `json:"grades"`
	LengthCM map[crop.Flush]Interval `json:"length_cm,omitempty"`
	Plants   []PlantSeason           `json:"plants"`
}

// Interval is an estimate and the ends of its interval.
type Interval struct {
	Mean Figure `json:"mean"`
	Lo   Figure `json:"lo"`
	Hi   Figure `json:"hi"`
}

// Stems is the number of stems that a plant gives in a season. Mean is the posterior median of the
// mean over plants and Lo and Hi its interval; Size is the posterior median of the NB2 size within the
// season (small when one plant's seasons differ much); NewLo and NewHi are the range of one more plant.
type Stems struct {
	Mean  Figure `json:"mean"`
	Lo    Figure `json:"lo"`
	Hi    Figure `json:"hi"`
	Size  Figure `json:"size"`
	NewLo int    `json:"new_lo"`
	NewHi int    `json:"new_hi"`
}

// SeasonStems is the mean of an age in one season.
type SeasonStems struct {
	Season crop.Season `json:"season"`
	Alive  int         `json:"alive"`
	Interval
}

// BedStems is the mean of an age in one bed and season.
type BedStems struct {
	Bed    crop.BedID  `json:"bed"`
	Name   string      `json:"name"`
	Season crop.Season `json:"season"`
	Alive  int         `json:"alive"`
	Interval
}

// GradeCell is the grade distribution of one age and flush, over stems. Plants counts the plants
// behind it; bench totals and bed cuts of the same plantings of a bed and one season count as one.
type GradeCell struct {
	Flush  crop.Flush `json:"flush"`
	Stems  int        `json:"stems"`
	Plants int        `json:"plants"`
	P      ByGrade    `json:"p"`
	Lo     ByGrade    `json:"lo"`
	Hi     ByGrade    `json:"hi"`
}

// ByGrade holds one probability for each grade.
type ByGrade struct {
	Out    Figure `json:"out"`
	Second Figure `json:"second"`
	First  Figure `json:"first"`
	Extra  Figure `json:"extra"`
}

// byGrade names values that stand in the order of crop.GradesLowToHigh.
func byGrade(v []float64) ByGrade {
	return ByGrade{Out: Figure(v[0]), Second: Figure(v[1]), First: Figure(v[2]), Extra: Figure(v[3])}
}

// PlantSeason is one counted plant in one season: a dot behind the estimate, hollow while Open.
type PlantSeason struct {
	Plant  crop.PlantID `json:"plant"`
	Code   string       `json:"code"`
	Season crop.Season  `json:"season"`
	Stems  int          `json:"stems"`
	Open   bool         `json:"open"`

	age      int
	toOrder  bool
	partSeen bool    // the bed was cut on days outside the window too
	share    float64 // of the season's stems, the part that the window saw
}

// PlantWorth is one counted plant beside the others of its kind.
type PlantWorth struct {
	Plant crop.PlantID `json:"plant"`
	Code  string       `json:"code"`
	// Seasons of it are behind the estimate.
	Seasons int `json:"seasons"`
	// Times is how many times as many stems it gives as the middle plant of its planting, age and season.
	Times Interval `json:"times"`
	// BestTenth is the chance that it is among the best tenth of all such plants.
	BestTenth float64 `json:"best_tenth"`
	// Extra is the share of extra stems that it would give in the spring of its second season, where any of
	// its stems was graded.
	Extra *Interval `json:"extra,omitempty"`
}

// Spread is how much things differ: the factor by which one that stands a standard deviation above the
// middle one exceeds it.
type Spread struct {
	Plants    Interval `json:"plants"`
	Seasons   Interval `json:"seasons"`
	Plantings Interval `json:"plantings"`
	Beds      Interval `json:"beds"`
	// Uncounted is how many times as much an uncounted plant gives as a counted one; where no total was
	// taken it is what is assumed.
	Uncounted Interval `json:"uncounted"`
	Totals    int      `json:"totals"` // bed totals from which that was learned
	// Graders is how each person's grades lie beside the others', on the logit scale: for the owner and that
	// person only.
	Graders []Grader `json:"graders,omitempty"`
}

// Grader is how one person grades: above 0 kinder than the middle one, on the logit scale.
type Grader struct {
	Person crop.PersonID `json:"person"`
	Stems  int           `json:"stems"`
	Interval
}

// Rest is what the intervals of one model rest on.
type Rest struct {
	Model string  `json:"model"` // stems, grades or lengths
	Basis string  `json:"basis"` // as of stats.Basis
	KHat  float64 `json:"k_hat"`
	Draws int     `json:"draws"`
	Worth float64 `json:"worth"` // independent draws that they are worth
}
