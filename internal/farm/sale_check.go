package farm

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"corymb/internal/crop"
	"corymb/syncproto"
)

// MostBunches is the largest number of bunches of one line; a larger one is a slip of the finger.
const MostBunches = 9_999

// mostBunchStems is the largest number of stems that is tied in one bunch.
const mostBunchStems = 500

var (
	grade    = oneOf("", "second", "first", "extra")
	weekdays = fieldRule{kind: syncproto.KindText, check: checkWeekdays}
	clock    = fieldRule{kind: syncproto.KindText, check: checkTime}
	ids      = fieldRule{kind: syncproto.KindList}
	lotRule  = fieldRule{kind: syncproto.KindText, check: checkLot}
	lotMaybe = fieldRule{kind: syncproto.KindText, check: checkLotOrNone}
	cents    = upTo(0, int64(crop.MostCents))
	percent  = upTo(0, 10_000)
	anyCents = fieldRule{kind: syncproto.KindInt} // below 0, too
	currency = fieldRule{kind: syncproto.KindText, check: checkCurrency}
)

var saleRules = map[string]fieldRule{
	"farm currency": currency, "farm seller": anyText, "farm cooler_days": upTo(0, 60), "farm over_cut": upTo(0, 100),
	"farm pay_days": upTo(0, 365), "farm tax_rate": percent, "farm tax_name": anyText,
	"farm break_cost": upTo(0, 10_000),
	"channel name":    anyText, "channel kind": oneOf("wholesale", "co_op", "retail", "bouquet", "event", "dried"),
	"channel floor.": cents, "channel commission": percent, "channel fee": cents, "channel buyer_pays": anyNumber,
	"channel cutoff_days": upTo(0, 60), "channel cutoff_time": clock, "channel days": weekdays,
	"buyer name": anyText, "buyer channel": anyText, "buyer address": anyText, "buyer phone": anyText,
	"buyer email": anyText, "buyer note": anyText, "buyer accepts.": ids,
	"bunch name": anyText, "bunch stems": upTo(1, mostBunchStems), "bunch grade": grade, "bunch least": anyNumber,
	"price channel": anyText, "price buyer": anyText, "price colour": anyText, "price bunch": anyText,
	"price since": anyDay, "price cents": upTo(1, int64(crop.MostCents)),
	"order buyer": anyText, "order due": anyDay, "order taken": anyDay, "order note": anyText,
	"standing buyer": anyText, "standing since": anyDay, "standing last": anyDay, "standing days": weekdays,
	"standing every": upTo(1, 52), "standing note": anyText,
	"line order": anyText, "line standing": anyText, "line bunch": anyText, "line bunches": upTo(0, MostBunches),
	"line stems": upTo(1, mostBunchStems), "line grade": grade, "line least": anyNumber, "line colours": ids,
	"line whole": anyNumber, "line exact": anyNumber, "line cents": cents,
	"packed of": anyText, "packed buyer": anyText, "packed due": anyDay, "packed date": pastDay, "packed person": anyText,
	"shrink lot": lotRule, "shrink stems": upTo(1, crop.MostBenchStems), "shrink what": anyText, "shrink date": pastDay,
	"shrink person": anyText,
	"shrink reason": oneOf("wilted", "broken", "diseased", "too_open", "too_old", "given_away", "not_there", "other"),
	"claim of":      anyText, "claim buyer": anyText, "claim due": anyDay, "claim lot": lotMaybe,
	"claim stems": upTo(0, crop.MostBenchStems), "claim what": anyText, "claim date": pastDay, "claim person": anyText,
	"claim back": anyNumber, "claim cents": cents,
	"claim reason":       oneOf("shattered", "wilted", "colour", "short", "missing", "diseased", "unsold", "other"),
	"invoice invoice_no": anyText, "invoice buyer": anyText, "invoice date": anyDay, "invoice pay_by": anyDay,
	"invoice currency": currency, "invoice tax_rate": percent, "invoice void": pastDay, "invoice credits": anyText,
	"invoice claim": anyText, "invoice tax": anyCents, "invoice buyer_name": anyText, "invoice address": anyText,
	"invoice seller": anyText, "invoice tax_name": anyText,
}

// ownersMoney are the fields of scope money, by type; of wholly it is all of them.
var ownersMoney = map[string][]string{
	TypeFarm: {FieldCurrency, FieldPayDays, FieldTaxRate, FieldTaxName, FieldBreakCost,
		FieldHourCents, FieldDivideMinutes, FieldLiftMinutes, FieldSetMinutes, FieldPlugCents, FieldGroundCents, FieldStandingWorth},
	TypeChannel: {FieldFloor, FieldCommission, FieldFee, FieldBuyerPays},
	TypeLine:    {FieldCents},
	TypeClaim:   {FieldCents},
	TypeAsk:     {FieldCents},
	TypeIntent:  {FieldCents, FieldCentsLo, FieldCentsHi},
	TypePlan:    {FieldNet},
	TypeWork:    {FieldChannel},
}

// wholly are the types of which every field is of scope money.
var wholly = []string{TypePrice, TypeInvoice, TypeCost, TypePayment, TypeStatement, TypeStatementRow}

// checkScope keeps what is an owner's to read from being written where crew reads it.
func checkScope(c syncproto.Change) (syncproto.Code, string) {
	if c.Scope != syncproto.ScopeMoney && isMoney(c.Type, c.Field) {
		return syncproto.CodeScope, fmt.Sprintf("%.30q of a %s is of the scope money", c.Field, c.Type)
	}
	return "", ""
}

func isMoney(kind, field string) bool {
	if slices.Contains(wholly, kind) {
		return true
	}
	for _, owners := range ownersMoney[kind] {
		if field == owners || strings.HasSuffix(owners, ".") && strings.HasPrefix(field, owners) {
			return true
		}
	}
	return false
}

// checkPackedCell wants a number of bunches, or of stems of a lot.
func checkPackedCell(c syncproto.Change) (most int64, code syncproto.Code, why string) {
	if c.Field == FieldBunches {
		return MostBunches, "", ""
	}
	if _, err := ParseLotCell(c.Field); err != nil {
		return 0, syncproto.CodeValue, err.Error()
	}
	return crop.MostBenchStems, "", ""
}

func upTo(least, most int64) fieldRule {
	return fieldRule{kind: syncproto.KindInt, check: func(_ string, n int64, _ crop.Date) (syncproto.Code, string) {
		if n < least || n > most {
			return syncproto.CodeValue, fmt.Sprintf("%d is outside %d to %d", n, least, most)
		}
		return "", ""
	}}
}

func checkWeekdays(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	last := '0'
	for _, day := range text {
		if day <= last || day > '7' {
			return syncproto.CodeValue, fmt.Sprintf("%.20q are no days of the week: digits from 1 for Monday to 7 for Sunday, in order", text)
		}
		last = day
	}
	return "", ""
}

var (
	timeForm     = regexp.MustCompile(`^([01]\d|2[0-3]):[0-5]\d$`)
	currencyForm = regexp.MustCompile(`^[A-Z]{3}$`)
)

func checkTime(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	if text == "" || timeForm.MatchString(text) {
		return "", ""
	}
	return syncproto.CodeValue, fmt.Sprintf("%.20q is no time of day like 18:30", text)
}

func checkCurrency(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	if text == "" || currencyForm.MatchString(text) {
		return "", ""
	}
	return syncproto.CodeValue, fmt.Sprintf("%.20q is no currency's three letters (ISO 4217)", text)
}

func checkLot(text string, _ int64, _ crop.Date) (syncproto.Code, string) {
	if _, err := ParseLotCell(text); err != nil {
		return syncproto.CodeValue, err.Error()
	}
	return "", ""
}

func checkLotOrNone(text string, n int64, today crop.Date) (syncproto.Code, string) {
	if text == "" {
		return "", ""
	}
	return checkLot(text, n, today)
}
