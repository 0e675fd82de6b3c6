package farm

import (
	"fmt"
	"slices"
	"strings"

	"corymb/internal/crop"
	"corymb/syncproto"
)

// MostReason bounds the sentences of Check, in bytes of JSON. They quote only the beginning of a value:
// a phone is told thousands of them at once.
const MostReason = 600

// Check tells why a change's meaning keeps it out of the farm, as a code and a sentence for the
// log, or "" where nothing does. today is the server's own day; a phone may be a day ahead of it
// in its own time zone. Types, fields and ops of a later version pass: they merge like any other.
func Check(c syncproto.Change, today crop.Date) (syncproto.Code, string) {
	if code, why := checkScope(c); code != "" {
		return code, why
	}
	if code, why := checkAheadID(c, today); code != "" {
		return code, why
	}
	switch c.Op {
	case syncproto.OpCount, syncproto.OpCorrect:
		return checkCount(c)
	case syncproto.OpAdd, syncproto.OpRemove:
		if c.Value.Kind != syncproto.KindText || c.Value.Text == "" {
			return syncproto.CodeValue, fmt.Sprintf("the element of set %.30q is not a name", c.Field)
		}
		return checkElement(c)
	case syncproto.OpSet:
		return checkField(c, today)
	}
	return "", ""
}

func checkElement(c syncproto.Change) (syncproto.Code, string) {
	switch {
	case c.Type == TypePlant && c.Field == FieldPhotos && !isPhoto(c.Value.Text):
		return syncproto.CodeValue, "a photo is named by its SHA-256 in 64 small hexadecimal digits"
	case c.Type == TypeStanding && c.Field == FieldSkips && !crop.Date(c.Value.Text).Valid():
		return syncproto.CodeDate, fmt.Sprintf("%.30q is not a day", c.Value.Text)
	case c.Type == TypeInvoice && c.Field == FieldRows:
		if _, err := ParseInvoiceLine(c.Value.Text); err != nil {
			return syncproto.CodeValue, err.Error()
		}
	case c.Type == TypePlant && c.Field == FieldPlaces:
		if _, err := ParsePlace(c.Value.Text); err != nil {
			return syncproto.CodeValue, err.Error()
		}
	}
	return "", ""
}

func isPhoto(name string) bool {
	return len(name) == 64 && strings.Trim(name, "0123456789abcdef") == ""
}

func checkCount(c syncproto.Change) (syncproto.Code, string) {
	most, code, why := checkCell(c)
	if code != "" {
		return code, why
	}
	if c.Value.Kind != syncproto.KindInt {
		return syncproto.CodeValue, "a count is not a number"
	}
	least := int64(0)
	if c.Op == syncproto.OpCorrect {
		least = -most
		if saw, ok := c.Extra[syncproto.ExtraSaw]; !ok || saw.Kind != syncproto.KindInt {
			return syncproto.CodeValue, "a correction does not say which total it saw"
		}
	}
	if c.Value.Int < least || c.Value.Int > most {
		return syncproto.CodeCount, fmt.Sprintf("a count of %d is outside %d to %d", c.Value.Int, least, most)
	}
	return "", ""
}

// checkCell says how much a count cell may hold.
func checkCell(c syncproto.Change) (most int64, code syncproto.Code, why string) {
	switch c.Type {
	case TypePacked:
		return checkPackedCell(c)
	case TypeVisit:
		cell, err := ParseCell(c.Field)
		if err != nil {
			return 0, syncproto.CodeValue, err.Error()
		}
		if cell.OfBed {
			return crop.MostBenchStems, "", ""
		}
		return crop.MostStems, "", ""
	}
	return 0, syncproto.CodeValue, fmt.Sprintf("a %.30q cannot be counted in", c.Type)
}

// fieldRule says what a known field may hold.
type fieldRule struct {
	kind  syncproto.Kind
	check func(text string, n int64, today crop.Date) (syncproto.Code, string)
}

func checkField(c syncproto.Change, today crop.Date) (syncproto.Code, string) {
	rule, known := ruleOf(c.Type, c.Field)
	if !known {
		return "", ""
	}
	if c.Value.Kind != rule.kind {
		return syncproto.CodeValue, fmt.Sprintf("%.30q of a %s is of the wrong kind", c.Field, c.Type)
	}
	if rule.check == nil {
		return "", ""
	}
	return rule.check(c.Value.Text, c.Value.Int, today)
}

func ruleOf(entityType, field string) (fieldRule, bool) {
	name := field
	if dot := strings.IndexByte(field, '.'); dot >= 0 {
		name = field[:dot+1]
	}
	for _, all := range []map[string]fieldRule{rules, saleRules, aheadRules, moneyRules} {
		if rule, known := all[entityType+" "+name]; known {
			return rule, true
		}
	}
	return fieldRule{}, false
}

var (
	anyText   = fieldRule{kind: syncproto.KindText}
	anyNumber = fieldRule{kind: syncproto.KindInt, check: checkNotNegative}
	pastDay   = fieldRule{kind: syncproto.KindText, check: checkPastDay}
	anyDay    = fieldRule{kind: syncproto.KindText, check: checkDay}
	window    = fieldRule{kind: syncproto.KindText, check: checkWindow}
	monthDay  = fieldRule{kind: syncproto.KindText, check: checkMonthDay}
	seen      = fieldRule{kind: syncproto.KindText, check: checkSeen}
	lab       = fieldRule{kind: syncproto.KindText, check: checkLab}
	labOrNone = fieldRule{kind: syncproto.KindText, check: checkLabOrNone}
	labs      = fieldRule{kind: syncproto.KindText, check: checkLabs}
	photo     = fieldRule{kind: syncproto.KindText, check: checkPhoto}
)

var rules = map[string]fieldRule{
	"farm name": anyText, "farm unit": oneOf("cm", "in"), "farm season_start": monthDay,
	"farm southern": anyNumber, "farm made_up": anyNumber, "farm assumed_counted": anyNumber,
	"person name": anyText,
	"colour name": anyText, "colour swatch": anyText, "colour lab": labOrNone, "colour limit": anyNumber, "colour lab_from": anyText,
	"bed name": anyText, "bed length": anyNumber, "bed width": anyNumber, "bed lines": anyNumber,
	"bed cut_back.": pastDay,
	"stock name":    anyText, "stock species": anyText, "stock protected": anyNumber,
	"stock origin": oneOf("seed", "plug", "division", "bought", "self_sown"), "stock from": anyText,
	"planting stock": anyText, "planting bed": anyText, "planting planted": anyDay,
	"planting first_season": anyNumber,
	"plant code":            anyText, "plant planting": anyText, "plant line": anyNumber, "plant number": anyNumber,
	"plant colour": anyText, "plant removed": pastDay, "plant counted.": window, "plant beside": anyText,
	"plant stand.": seen, "plant colour.": seen, "plant reference": anyNumber,
	"visit plant": anyText, "visit bed": anyText, "visit planting": anyText, "visit person": anyText,
	"visit date": pastDay, "visit purpose": oneOf("cut", "standing", "nothing", "bed_cut", "bench"),
	"visit flush": oneOf("", "spring", "fall"), "visit to_order": anyNumber, "visit age": anyNumber,
	"visit stage": oneOf("", "opening", "full", "fading"),
	"event bed":   anyText, "event date": pastDay, "event person": anyText, "event what": anyText, "event until": anyNumber,
	"reading plant": anyText, "reading date": pastDay, "reading person": anyText, "reading lab": lab, "reading se": lab,
	"reading spread": anyNumber, "reading spread_se": anyNumber, "reading stage": oneOf("", "opening", "full", "fading"),
	"reading light": oneOf("", "shade", "overcast", "sun", "indoors"), "reading card": anyText, "reading camera": anyText,
	"reading photo": photo, "reading head": anyText, "reading quality": anyNumber, "reading problems": anyText,
	"card printed": pastDay, "card patches": labs, "card se": anyNumber, "card how": oneOf("", "as_printed", "beside", "typed"),
	"card measured": pastDay, "card retired": pastDay, "card scale": anyNumber,
	"event kind": oneOf("corralled", "netted", "deadheaded", "watered", "fed", "sprayed", "other"),
}

func oneOf(allowed ...string) fieldRule {
	return fieldRule{kind: syncproto.KindText, check: func(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
		if slices.Contains(allowed, text) {
			return "", ""
		}
		return syncproto.CodeValue, fmt.Sprintf("%.30q is none of %s", text, strings.Join(allowed, ", "))
	}}
}

func checkNotNegative(_ string, n int64, _ crop.Date) (syncproto.Code, string) {
	if n < 0 {
		return syncproto.CodeValue, fmt.Sprintf("%d is below zero", n)
	}
	return "", ""
}

func checkDay(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	if text == "" || crop.Date(text).Valid() {
		return "", ""
	}
	return syncproto.CodeDate, fmt.Sprintf("%.30q is not a day", text)
}

func checkPastDay(text string, n int64, today crop.Date) (syncproto.Code, string) {
	if code, why := checkDay(text, n, today); code != "" {
		return code, why
	}
	if crop.Date(text) > today.Add(1) {
		return syncproto.CodeDate, fmt.Sprintf("%s is in the future", text)
	}
	return "", ""
}

// checkSeen wants a day and what was seen on it, "2026-03-14/alive", or nothing.
func checkSeen(text string, n int64, today crop.Date) (syncproto.Code, string) {
	if text == "" {
		return "", ""
	}
	day, what, ok := strings.Cut(text, "/")
	if !ok || what == "" {
		return syncproto.CodeValue, fmt.Sprintf("%.30q is not a day and what was seen on it", text)
	}
	return checkPastDay(day, n, today)
}

func checkWindow(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	if text == "" {
		return "", ""
	}
	if _, err := ParseWindow(text); err != nil {
		return syncproto.CodeDate, err.Error()
	}
	return "", ""
}

// checkLab wants one colour.
func checkLab(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	if _, err := ParseLab(text); err != nil {
		return syncproto.CodeValue, err.Error()
	}
	return "", ""
}

func checkLabOrNone(text string, n int64, today crop.Date) (syncproto.Code, string) {
	if text == "" {
		return "", ""
	}
	return checkLab(text, n, today)
}

// checkLabs wants colours with spaces between, or nothing.
func checkLabs(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	if _, err := ParseLabs(text); err != nil {
		return syncproto.CodeValue, err.Error()
	}
	return "", ""
}

func checkPhoto(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	if text == "" || isPhoto(text) {
		return "", ""
	}
	return syncproto.CodeValue, "a photo is named by its SHA-256 in 64 small hexadecimal digits"
}

func checkMonthDay(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	if _, err := crop.ParseCalendar(text, false); err != nil {
		return syncproto.CodeDate, err.Error()
	}
	return "", ""
}

// ParseWindow reads "from/to".
func ParseWindow(text string) (crop.Window, error) {
	from, to, ok := strings.Cut(text, "/")
	w := crop.Window{From: crop.Date(from), To: crop.Date(to)}
	if !ok || !w.From.Valid() || !w.To.Valid() || w.To < w.From {
		return crop.Window{}, fmt.Errorf("%.30q is not a span of days like 2026-01-01/2026-12-31", text)
	}
	return w, nil
}
