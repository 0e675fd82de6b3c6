package packing

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Read reads a day from JSON. What it does not know it tells in notes; what is wrong, all of it, in the error, which is
// Faults where the JSON itself could be read.
func Read(from io.Reader) (Day, []Note, error) {
	text, err := io.ReadAll(from)
	if err != nil {
		return Day{}, nil, fmt.Errorf("reading the day: %w", err)
	}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf")) // some editors begin a file so
	if len(bytes.TrimSpace(text)) == 0 {
		return Day{}, nil, notJSON("it is empty")
	}
	if err := json.Unmarshal(text, new(json.RawMessage)); err != nil {
		return Day{}, nil, notJSON(syntax(text, err))
	}
	var r reader
	day := r.day(text)
	if len(r.faults) > 0 {
		return day, r.notes, r.faults
	}
	return day, r.notes, nil
}

func notJSON(why string) error {
	return Faults{{Code: CodeNotJSON, Text: "the day is not JSON: " + why + "; write it as {\"grades_low_to_high\":[…],\"supply\":[…],\"demand\":[…]}"}}
}

// syntax says what is wrong with JSON, and in which line.
func syntax(text []byte, err error) string {
	var wrong *json.SyntaxError
	if !errors.As(err, &wrong) {
		return err.Error()
	}
	before := text[:min(int(wrong.Offset), len(text))]
	return fmt.Sprintf("line %d, %s", 1+bytes.Count(before, []byte("\n")), wrong)
}

// reader gathers what is odd and what is wrong.
type reader struct {
	notes  []Note
	faults Faults
}

// field is a key of an object, and how its value is read. What read returns is what is wrong with it.
type field struct {
	key   string
	need  need
	read  func(json.RawMessage) (code, wrong string)
	found bool
}

// need is what follows where a key is missing.
type need string

const (
	needed   need = "missing"
	optional need = ""
)

// assumed says what is taken for a key that is missing, and that it was.
func assumed(what string) need { return need(what) }

func (r *reader) fault(n Note) { r.faults = append(r.faults, n) }
func (r *reader) note(n Note)  { r.notes = append(r.notes, n) }

func (r *reader) day(text json.RawMessage) Day {
	var d Day
	var supply, demand []json.RawMessage
	at := &entry{}
	r.object(at, text, []*field{
		{key: "name", read: textInto(&d.Name)},
		{key: "grades_low_to_high", need: needed, read: textsInto(&d.Grades)},
		{key: "supply", need: needed, read: listInto(&supply)},
		{key: "demand", need: needed, read: listInto(&demand)},
	})
	for i, raw := range supply {
		d.Supply = append(d.Supply, r.supply(i+1, raw))
	}
	for i, raw := range demand {
		d.Demand = append(d.Demand, r.demand(i+1, raw))
	}
	return d
}

func (r *reader) supply(place int, raw json.RawMessage) Supply {
	var s Supply
	r.object(&entry{where: "supply", place: place}, raw, []*field{
		{key: "id", need: needed, read: textInto(&s.ID)},
		{key: "grade", need: needed, read: textInto(&s.Grade)},
		{key: "length_cm", need: needed, read: numberInto(&s.LengthMM, 10)},
		{key: "colour", need: assumed("the stems go only to lines that take any colour"), read: textInto(&s.Colour)},
		{key: "stems", need: needed, read: numberInto(&s.Stems, 1)},
		{key: "floor_cents", need: assumed("the stems have no floor"), read: numberInto(&s.Floor, 1)},
		{key: "cut_date", read: textInto(&s.Cut)},
	})
	return s
}

func (r *reader) demand(place int, raw json.RawMessage) Demand {
	var line Demand
	r.object(&entry{where: "demand", place: place}, raw, []*field{
		{key: "id", need: needed, read: textInto(&line.ID)},
		{key: "channel", read: textInto(&line.Channel)},
		{key: "min_grade", need: assumed("the line takes any grade"), read: textInto(&line.MinGrade)},
		{key: "min_length_cm", need: assumed("the line takes any length"), read: numberInto(&line.MinLengthMM, 10)},
		{key: "colours", need: assumed("the line takes any colour"), read: textsInto(&line.Colours)},
		{key: "bunch", need: needed, read: numberInto(&line.Bunch, 1)},
		{key: "price_cents", need: needed, read: numberInto(&line.Price, 1)},
		{key: "min_bunches", read: numberInto(&line.MinBunches, 1)},
		{key: "max_bunches", need: needed, read: numberInto(&line.MaxBunches, 1)},
		{key: "all_or_nothing", read: truthInto(&line.AllOrNothing)},
		{key: "refused", read: truthInto(&line.Refused)},
		{key: "pinned_bunches", read: func(raw json.RawMessage) (string, string) {
			line.Pinned = new(int64)
			return numberInto(line.Pinned, 1)(raw)
		}},
	})
	return line
}

// object reads the keys of an object. A key whose value is null is as one that is missing.
func (r *reader) object(at *entry, raw json.RawMessage, fields []*field) {
	all, ok := members(raw)
	if !ok {
		r.fault(at.note(CodeKind, "", "%s is not an object: write it as {…}", short(raw)))
		return
	}
	for _, m := range all { // its name first, for what is said of it
		if m.key == "id" && at.where != "" {
			_ = json.Unmarshal(m.value, &at.id) // what is no text is told below
		}
	}
	known := map[string]*field{}
	var keys []string
	for _, f := range fields {
		known[f.key] = f
		keys = append(keys, f.key)
	}
	for _, m := range all {
		f := known[m.key]
		switch {
		case f == nil:
			r.note(at.note(CodeUnknownKey, m.key, "is not known and was ignored; known are %s", strings.Join(keys, ", ")))
		case f.found:
			r.fault(at.note(CodeRepeated, m.key, "is there twice: keep one"))
		case string(m.value) != "null":
			f.found = true
			if code, wrong := f.read(m.value); code != "" {
				r.fault(at.note(code, m.key, "%s", wrong))
			}
		}
	}
	r.missing(at, fields)
}

func (r *reader) missing(at *entry, fields []*field) {
	for _, f := range fields {
		switch {
		case f.found || f.need == optional:
		case f.need == needed:
			r.fault(at.note(CodeMissing, f.key, "is missing: add it"))
		default:
			r.note(at.note(CodeAssumed, f.key, "is missing, so %s", f.need))
		}
	}
}

// member is a key and its value, in the order in which they are written.
type member struct {
	key   string
	value json.RawMessage
}

func members(raw json.RawMessage) ([]member, bool) {
	if !bytes.HasPrefix(bytes.TrimSpace(raw), []byte("{")) {
		return nil, false
	}
	from := json.NewDecoder(bytes.NewReader(raw))
	_, _ = from.Token() // it is known to be JSON
	var all []member
	for from.More() {
		key, err := from.Token()
		if err != nil {
			return nil, false
		}
		m := member{key: key.(string)}
		if err := from.Decode(&m.value); err != nil {
			return nil, false
		}
		all = append(all, m)
	}
	return all, true
}

// short is the beginning of a piece of JSON, for a sentence.
func short(raw json.RawMessage) string {
	const most = 40
	text := []rune(string(raw))
	if len(text) > most {
		return string(text[:most]) + "…"
	}
	return string(text)
}
