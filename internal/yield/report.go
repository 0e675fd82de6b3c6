package yield

import "corymb/internal/crop"

// Report is the fitted model of one farm or one pair of files, as it is printed and sent. Every
// number in it is finite.
type Report struct {
	Level float64 `json:"level"`
	Ages  []Age   `json:"ages"`
	Notes []Note  `json:"notes"`
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
	StemsTotal int           `json:"stems_total"`
	Grades     []GradeCell   `json:"grades"`
	Plants     []PlantSeason `json:"plants"`
}

// Stems is the number of stems that a plant gives in a season. Mean is the posterior median of the
// mean over plants and Lo and Hi its interval; Size is the posterior median of the NB2 size (small
// when plants differ much); NewLo and NewHi are the range of one more plant of this age.
type Stems struct {
	Mean  float64 `json:"mean"`
	Lo    float64 `json:"lo"`
	Hi    float64 `json:"hi"`
	Size  float64 `json:"size"`
	NewLo int     `json:"new_lo"`
	NewHi int     `json:"new_hi"`
}

// GradeCell is the grade distribution of one age and flush, over stems. Plants counts the plants
// behind it; a bed's bench totals and bed cuts of one season count as one.
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
	Out    float64 `json:"out"`
	Second float64 `json:"second"`
	First  float64 `json:"first"`
	Extra  float64 `json:"extra"`
}

// byGrade names values that stand in the order of crop.GradesLowToHigh.
func byGrade(v []float64) ByGrade {
	return ByGrade{Out: v[0], Second: v[1], First: v[2], Extra: v[3]}
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
