package farm

import (
	"corymb/internal/crop"
	"corymb/syncproto"
)

// mostInto is the largest number of plants that one plant is divided into.
const mostInto = 99

// mostMinutes is the largest number of minutes of work of a plan: a year of them.
const mostMinutes = 366 * 24 * 60

// costOr takes a cost, or AsUsual.
func costOr(most int64) fieldRule { return upTo(AsUsual, most) }

var (
	// The coldest and the hottest air that was measured on Earth are -89.2 and 56.7 degrees (WMO, world weather and
	// climate extremes archive, from memory).
	temperature = upTo(-900, 600)
	perMille    = upTo(0, 1_000)
	someStems   = upTo(0, crop.MostBenchStems)
)

var aheadRules = map[string]fieldRule{
	"farm degrees": oneOf("c", "f"), "farm warm_lower": temperature, "farm warm_upper": temperature,
	"farm warm_method": oneOf("sine", "average"),
	"farm hour_cents":  costOr(int64(crop.MostCents)), "farm plug_cents": costOr(int64(crop.MostCents)), "farm ground_cents": costOr(int64(crop.MostCents)),
	"farm divide_minutes": costOr(crop.MostPlantMinutes), "farm lift_minutes": costOr(crop.MostPlantMinutes), "farm set_minutes": costOr(crop.MostPlantMinutes),
	"farm standing_worth": costOr(crop.MostStanding),
	"ask buyer":           anyText, "ask note": anyText, "ask stems": upTo(1, crop.MostBenchStems), "ask colours": ids, "ask grade": grade,
	"ask least": anyNumber, "ask since": anyDay, "ask due": anyDay, "ask taken": pastDay, "ask person": anyText,
	"ask answer": oneOf("", "promised", "declined", "went_elsewhere"), "ask offered": someStems, "ask chance": perMille,
	"ask order": anyText, "ask cents": cents,
	"weather min": temperature, "weather max": temperature,
	"task kind": oneOf("corral", "first_look", "heavy_week", "cut_back", "deadhead", "divide", "label_mothers", "order_plugs", "stand_walk", "own"),
	"task bed":  anyText, "task due": anyDay, "task what": anyText, "task done": pastDay, "task person": anyText,
	"task dropped": upTo(0, 1),
	"intent do":    oneOf("", "keep", "divide", "lift", "replace"), "intent into": upTo(0, mostInto), "intent why": ids,
	"intent made": pastDay, "intent done": pastDay, "intent person": anyText,
	"intent mean": someStems, "intent lo": someStems, "intent hi": someStems,
	"intent cents": anyCents, "intent cents_lo": anyCents, "intent cents_hi": anyCents,
	"plan goal": upTo(1, 10_000), "plan seasons": upTo(1, 9), "plan places": upTo(0, 1_000_000), "plan minutes": upTo(0, mostMinutes),
	"plan chance": perMille, "plan made": pastDay, "plan net": anyCents,
}

// checkAheadID wants ids that say of what they are: a day, a season, or a season and what it is of.
func checkAheadID(c syncproto.Change, today crop.Date) (syncproto.Code, string) {
	var err error
	switch c.Type {
	case TypeWeather:
		if c.ID != "" {
			return checkPastDay(c.ID, 0, today)
		}
	case TypePlan:
		_, err = parseSeason(c.ID)
	case TypeIntent:
		_, _, err = ParseIntentID(crop.IntentID(c.ID))
	case TypeTask:
		if id := crop.TaskID(c.ID); !IsOwnTask(id) {
			_, err = ParseTaskID(id)
		}
	}
	if err != nil {
		return syncproto.CodeValue, err.Error()
	}
	return "", ""
}
