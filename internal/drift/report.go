package drift

import (
	"corymb/internal/crop"
)

// Report is what the readings of a stand say. Colours are CIELAB of white D50, differences CIEDE2000 units. It
// is empty, with a note, where there is no reading.
type Report struct {
	Level     float64 `json:"level"`     // of all intervals
	Threshold float64 `json:"threshold"` // from which on a difference is held to be visible
	Test      float64 `json:"test"`      // the chance of a false flag that the joint test allows
	Readings  int     `json:"readings"`
	Firm      int     `json:"firm"` // of them that can be evidence of drift
	Plants    int     `json:"plants"`

	Variances    []Variance    `json:"variances"`
	Sessions     []Session     `json:"sessions"`
	Stand        []StandShift  `json:"stand"`
	References   []PlantSeason `json:"references"` // as PlantSeasons, against the other references
	PlantSeasons []PlantSeason `json:"plant_seasons"`
	Colours      []PlantColour `json:"colours"`
	Power        []Power       `json:"power"`
	Notes        []Note        `json:"notes"`
}

// Lab is a colour or a difference of two.
type Lab struct {
	L float64 `json:"l"`
	A float64 `json:"a"`
	B float64 `json:"b"`
}

// Cov is a covariance of L*, a* and b*.
type Cov struct {
	LL float64 `json:"ll"`
	LA float64 `json:"la"`
	LB float64 `json:"lb"`
	AA float64 `json:"aa"`
	AB float64 `json:"ab"`
	BB float64 `json:"bb"`
}

// Interval is an estimate and the ends of its interval.
type Interval struct {
	Mean float64 `json:"mean"`
	Lo   float64 `json:"lo"`
	Hi   float64 `json:"hi"`
}

// Variance is how much one cause moves readings: standard deviations in CIELAB units along the lightness, chroma and hue
// of a plant of a chroma of 20, or for sessions along L*, a* and b*.
type Variance struct {
	Name   ComponentName `json:"name"`
	Text   string        `json:"text"`
	First  Interval      `json:"first"`
	Second Interval      `json:"second"`
	Third  Interval      `json:"third"`
}

// Session is what one camera photographed on one day, with a card or without.
type Session struct {
	Season     crop.Season `json:"season"`
	Day        crop.Date   `json:"day"`
	Camera     string      `json:"camera"`
	Card       bool        `json:"card"`
	Readings   int         `json:"readings"`
	Plants     int         `json:"plants"`
	References int         `json:"references"` // firmly read in it
	Tied       bool        `json:"tied"`       // by enough references to tell what the stand itself did
	// Effect is what its light and camera do to all readings, beside the farm's other sessions.
	Effect Lab `json:"effect"`
	SE     Lab `json:"se"`
}

// StandShift is what the whole stand did since its first season, beside the reference plants.
type StandShift struct {
	Season crop.Season `json:"season"`
	Since  crop.Season `json:"since"`
	// Told says whether reference plants tell it; where not, all else is what is assumed and means nothing.
	Told   bool     `json:"told"`
	Reason Reason   `json:"reason,omitempty"`
	Shift  Lab      `json:"shift"` // of a plant in the middle of the stand
	SE     Lab      `json:"se"`
	Total  Interval `json:"total"`
	P      float64  `json:"p"`
	Moved  bool     `json:"moved"` // by the joint test, and visibly
}

// State is what is said of a plant in a season.
type State string

// The states of a plant-season.
const (
	StateNone       State = "none"        // a drift of twice the threshold would have been noticed, and none was
	StateWatch      State = "watch"       // seen, but not on two days
	StateDrift      State = "drift"       // seen, visible, and confirmed on another day, of this season or since the baseline
	StateCannotTell State = "cannot_tell" // too little was read, or not what can be compared
)

// Reason says why nothing better can be said.
type Reason string

// The reasons of a plant-season, a plant or a stand.
const (
	ReasonNoBaseline  Reason = "no_baseline"      // no season before has an accepted reading of full bloom
	ReasonNoFullBloom Reason = "no_full_bloom"    // no reading of the season is told to be of full bloom
	ReasonOnlySun     Reason = "only_sun"         // readings of full bloom are all in sun
	ReasonNoCard      Reason = "no_card"          // readings of full bloom are all without a card
	ReasonFewReadings Reason = "too_few_readings" // a drift of twice the threshold would likely have been missed
	ReasonFewPlants   Reason = "few_plants"       // few others were read in both seasons to be held against
	ReasonOneDay      Reason = "one_day"          // read on one day, so that nothing can be confirmed
	ReasonDaysApart   Reason = "days_apart"       // days do not show the same
	ReasonOtherCamera Reason = "other_camera"     // no camera of the baseline read it this season
	ReasonOtherLight  Reason = "other_light"      // indoors against outdoors
	ReasonNotVisible  Reason = "not_visible"      // shown by the test, and below the threshold
	ReasonStandUntold Reason = "stand_shift_untold"
)

// PlantSeason is a plant's own shift since its baseline, beside the rest of the stand.
type PlantSeason struct {
	Plant    crop.PlantID `json:"plant"`
	Season   crop.Season  `json:"season"`
	Baseline crop.Season  `json:"baseline"` // 0 where there is none
	Readings int          `json:"readings"` // firm ones
	Days     int          `json:"days"`     // of the firm ones
	State    State        `json:"state"`
	Reasons  []Reason     `json:"reasons"`
	Shift    *Shift       `json:"shift"` // nil where nothing can be compared
}

// Shift is a difference from a plant's baseline with its uncertainty.
type Shift struct {
	From      Lab      `json:"from"` // the baseline
	By        Lab      `json:"by"`
	Cov       Cov      `json:"cov"`
	DF        float64  `json:"df"`
	Total     Interval `json:"total"`
	Lightness Part     `json:"lightness"`
	Chroma    Part     `json:"chroma"`
	Hue       Part     `json:"hue"`
	P         float64  `json:"p"` // of the joint test of all three
	Visible   bool     `json:"visible"`
	Confirmed bool     `json:"confirmed"`
	Agreeing  int      `json:"agreeing"` // days that show it, each on its own, of this season and of those since the baseline
	// Noticeable is the drift that these readings would have shown with a chance of 80 %, as a mean over the
	// directions it may go; nil where that is more than 40 units.
	Noticeable *float64 `json:"noticeable"`
}

// Part is a part of a difference, in CIEDE2000 units, and its standard error.
type Part struct {
	Value float64 `json:"value"`
	SE    float64 `json:"se"`
}

// PlantColour is a plant's colour in a season, of full bloom in open shade, as the farm's cameras and cards
// read it on average. It holds for comparing plants of the farm; against the world it is not claimed within 5
// units.
type PlantColour struct {
	Plant    crop.PlantID `json:"plant"`
	Season   crop.Season  `json:"season"`
	Lab      Lab          `json:"lab"`
	Cov      Cov          `json:"cov"`
	Readings int          `json:"readings"`
	Firm     int          `json:"firm"`
	Now      bool         `json:"now"` // the last season that it was read in
}

// Power is how likely a drift is seen, were every plant photographed so in every season.
type Power struct {
	Photos    int     `json:"photos"` // a plant and season
	Days      int     `json:"days"`   // that they are spread over
	Size      float64 `json:"size"`   // of the drift
	Noticed   float64 `json:"noticed"`
	Confirmed float64 `json:"confirmed"` // by days of that season alone
}

// Note is something that the reader of a report must know. Code and Args are for translation; Text says it in
// English.
type Note struct {
	Code string            `json:"code"`
	Args map[string]string `json:"args"`
	Text string            `json:"text"`
}

func jsonLab(v vector) Lab { return Lab{L: v[0], A: v[1], B: v[2]} }

func jsonCov(s square) Cov {
	return Cov{LL: s[0][0], LA: s[0][1], LB: s[0][2], AA: s[1][1], AB: s[1][2], BB: s[2][2]}
}
