package farm

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"corymb/internal/crop"
)

// Fields of what lies ahead, beside those that are called as of other types: buyer, note, stems, colours, grade, least,
// since, due, taken, person, order and cents of an ask; kind, bed, due, what and person of a task; person and cents of an
// intent; places, a number, of a plan. Cents and what is marked so are of scope money; other fields of an ask and a plan
// are the shed's, the rest the field's.
const (
	FieldDegrees    = "degrees"     // farm: "c" or "f"
	FieldWarmLower  = "warm_lower"  // farm: tenths of a degree Celsius
	FieldWarmUpper  = "warm_upper"  // farm: tenths of a degree Celsius
	FieldWarmMethod = "warm_method" // farm: "sine" or "average"

	FieldHourCents     = "hour_cents"     // farm: cents, or AsUsual (money)
	FieldDivideMinutes = "divide_minutes" // farm: number, or AsUsual (money)
	FieldLiftMinutes   = "lift_minutes"   // farm: number, or AsUsual (money)
	FieldSetMinutes    = "set_minutes"    // farm: number, or AsUsual (money)
	FieldPlugCents     = "plug_cents"     // farm: cents, or AsUsual (money)
	FieldGroundCents   = "ground_cents"   // farm: cents, or AsUsual (money)
	FieldStandingWorth = "standing_worth" // farm: percent, or AsUsual (money)

	FieldAnswer  = "answer"  // ask: crop.AskAnswer
	FieldOffered = "offered" // ask: stems
	FieldChance  = "chance"  // ask, plan: per mille

	FieldMin = "min" // weather: tenths of a degree Celsius
	FieldMax = "max" // weather: tenths of a degree Celsius

	FieldDone    = "done"    // task, intent: date or ""
	FieldDropped = "dropped" // task: 0 or 1

	FieldDo      = "do"       // intent: crop.IntentDo, or "" where it was taken back
	FieldInto    = "into"     // intent: number
	FieldWhy     = "why"      // intent: list of words
	FieldMade    = "made"     // intent, plan: date
	FieldMean    = "mean"     // intent: stems
	FieldLo      = "lo"       // intent: stems
	FieldHi      = "hi"       // intent: stems
	FieldCentsLo = "cents_lo" // intent: cents (money)
	FieldCentsHi = "cents_hi" // intent: cents (money)

	FieldGoal    = "goal"    // plan: hundredths
	FieldSeasons = "seasons" // plan: number
	FieldMinutes = "minutes" // plan: number
	FieldNet     = "net"     // plan: cents (money)
)

// AsUsual in the place of a cost goes back to the usual one: 0 is a cost like any other.
const AsUsual = -1

// TaskName is what the id of a task says that follows from what grows.
type TaskName struct {
	Season crop.Season
	Kind   crop.TaskKind
	Of     string // a bed's, planting's or stock's id
}

// ID names the task: "2026.cut_back.b1".
func (n TaskName) ID() crop.TaskID {
	return crop.TaskID(fmt.Sprintf("%d.%s.%s", n.Season, n.Kind, n.Of))
}

// ParseTaskID reads the id of a task that follows from what grows.
func ParseTaskID(id crop.TaskID) (TaskName, error) {
	season, rest, err := cutSeason(string(id))
	kind, of, _ := strings.Cut(rest, ".")
	if err != nil || of == "" || !slices.Contains(crop.TaskKinds, crop.TaskKind(kind)) {
		return TaskName{}, fmt.Errorf("%.60q is not the season, kind and place of a task", string(id))
	}
	return TaskName{Season: season, Kind: crop.TaskKind(kind), Of: of}, nil
}

// IsOwnTask tells whether an id is of a grower's own task. All others have dots.
func IsOwnTask(id crop.TaskID) bool { return !strings.Contains(string(id), ".") }

// IntentID names what was decided for a plant in a season: "2026.p1".
func IntentID(season crop.Season, plant crop.PlantID) crop.IntentID {
	return crop.IntentID(fmt.Sprintf("%d.%s", season, plant))
}

// ParseIntentID reads the season and the plant of an intent's id.
func ParseIntentID(id crop.IntentID) (crop.Season, crop.PlantID, error) {
	season, plant, err := cutSeason(string(id))
	if err != nil || plant == "" {
		return 0, "", fmt.Errorf("%.60q is not the season and plant of an intent", string(id))
	}
	return season, crop.PlantID(plant), nil
}

var seasonForm = regexp.MustCompile(`^[1-9]\d{3}$`)

// cutSeason takes the season and the dot off the front of an id.
func cutSeason(id string) (crop.Season, string, error) {
	digits, rest, _ := strings.Cut(id, ".")
	season, err := parseSeason(digits)
	return season, rest, err
}

func parseSeason(digits string) (crop.Season, error) {
	if !seasonForm.MatchString(digits) {
		return 0, fmt.Errorf("%.30q is not a season like 2026", digits)
	}
	year, err := strconv.Atoi(digits)
	return crop.Season(year), err
}
