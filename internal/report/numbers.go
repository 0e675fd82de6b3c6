package report

import (
	"fmt"
	"iter"
	"maps"
	"math"
	"strconv"
	"strings"

	"corymb/internal/crop"
)

// Language is what a report is written in.
type Language string

// The languages.
const (
	English Language = "en"
	Spanish Language = "es"
)

// Known tells whether reports are written in it.
func (l Language) Known() bool { return l == English || l == Spanish }

// say is a text of the table with its numbers and names in place.
func (w writer) say(key string, args ...any) string {
	text, known := words[key]
	if !known {
		panic("no words for " + key) // a fault of the program, which a test finds
	}
	return fmt.Sprintf(text.in(w.language), args...)
}

// n is a whole number and what it counts, in the singular for 1.
func (w writer) n(count int, noun string) string {
	one, many, _ := strings.Cut(nouns[noun].in(w.language), "|")
	if count == 1 {
		return "1 " + one
	}
	return w.whole(count) + " " + many
}

// decimals is a number with so many digits after the point.
func (w writer) decimals(x float64, digits int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	text := strconv.FormatFloat(math.Abs(x), 'f', digits, 64)
	whole, part, _ := strings.Cut(text, ".")
	var grouped []string
	for len(whole) > 3 {
		grouped = append([]string{whole[len(whole)-3:]}, grouped...)
		whole = whole[:len(whole)-3]
	}
	thousands, point := ",", "."
	if w.language == Spanish {
		thousands, point = ".", ","
	}
	out := strings.Join(append([]string{whole}, grouped...), thousands)
	if part != "" {
		out += point + part
	}
	if x < 0 && strings.Trim(text, "0.") != "" {
		out = "−" + out
	}
	return out
}

func (w writer) whole(n int) string { return w.decimals(float64(n), 0) }

// rounded is a number of things that may have parts: with one digit while it is small.
func (w writer) rounded(x float64) string {
	if math.Abs(x) < 100 {
		return w.decimals(x, 1)
	}
	return w.decimals(x, 0)
}

// cents are an amount to the cent, without the currency.
func (w writer) cents(c crop.Cents) string {
	sign := ""
	if c < 0 {
		sign, c = "−", -c
	}
	point := "."
	if w.language == Spanish {
		point = ","
	}
	return fmt.Sprintf("%s%s%s%02d", sign, w.whole(int(c/100)), point, c%100)
}

// amount is an amount with the farm's currency.
func (w writer) amount(c crop.Cents) string {
	return strings.TrimSpace(w.cents(c) + " " + w.Farm.Sales.Terms.Currency)
}

// near is an amount that was estimated, to the whole unit.
func (w writer) near(cents float64) string { return w.decimals(cents/100, 0) }

// percent is a share in whole hundredths.
func (w writer) percent(share float64) string { return w.decimals(100*share, 0) + " %" }

// between is the ends of an interval.
func (w writer) between(lo, hi string) string { return lo + "–" + hi }

// day is a date as people write it.
func (w writer) day(d crop.Date) string {
	if !d.Valid() {
		return string(d)
	}
	return w.say("date", w.dayNumber(d), w.month(d), d.Year())
}

// shortDay is one whose year is known, in as few letters as fit below a column.
func (w writer) shortDay(d crop.Date) string {
	month := []rune(w.month(d))
	return fmt.Sprintf("%d %s", w.dayNumber(d), string(month[:3]))
}

func (writer) dayNumber(d crop.Date) int {
	n, _ := strconv.Atoi(string(d)[8:]) // of a valid date
	return n
}

func (w writer) month(d crop.Date) string {
	n, _ := strconv.Atoi(string(d)[5:7])
	return strings.Split(w.say("months"), " ")[n-1]
}

func keysOf[K comparable, V any](m map[K]V) iter.Seq[K] { return maps.Keys(m) }
