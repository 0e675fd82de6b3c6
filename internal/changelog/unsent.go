package changelog

import (
	"bytes"
	"encoding/json"
	"fmt"

	"corymb/syncproto"
)

// Unsent is what a phone saved to a file because the shed does not hold it.
type Unsent struct {
	Incarnation string // of Pending
	// Before is the chain value before the first of Pending, in hexadecimal; empty where the phone
	// did not know it.
	Before string
	// Pending are the changes that the phone did not know to be settled: whole operations in seq
	// order, without gaps.
	Pending []syncproto.Change
	// Refused are whole operations of which the shed had refused something, of any incarnation.
	Refused []syncproto.Change
}

// unsentForm is the form of the file that this code reads.
const unsentForm = 1

// unsentHeader is the first line of the file.
type unsentHeader struct {
	T           string                                 `json:"t"`
	Version     int                                    `json:"version"`
	Farm        string                                 `json:"farm"`
	Incarnation string                                 `json:"incarnation"`
	Before      string                                 `json:"before"`
	Unsent      int                                    `json:"unsent"`  // lines of pending changes; those of refused ones follow
	Refused     map[syncproto.Identity]json.RawMessage `json:"refused"` // and why
}

// ReadUnsent reads the file that a phone saved for a farm: a line of JSON that says what follows, then
// a line for each change with its canonical bytes. Nothing is guessed or left out: the error is a
// *syncproto.Breach that names the line and says what to do.
func ReadUnsent(farm string, file []byte) (Unsent, error) {
	first, rest, _ := bytes.Cut(file, []byte("\n"))
	header, err := readUnsentHeader(farm, first)
	if err != nil {
		return Unsent{}, err
	}
	changes, err := readUnsentChanges(rest)
	if err != nil {
		return Unsent{}, err
	}
	if err := header.checkWhole(changes); err != nil {
		return Unsent{}, err
	}
	u := Unsent{
		Incarnation: header.Incarnation, Before: header.Before,
		Pending: changes[:header.Unsent], Refused: changes[header.Unsent:],
	}
	if err := checkPending(u.Pending, u.Incarnation); err != nil {
		return Unsent{}, err
	}
	return u, checkOperations(u.Refused, firstChangeLine+len(u.Pending))
}

// firstChangeLine is the number of the first line that holds a change.
const firstChangeLine = 2

func readUnsentHeader(farm string, line []byte) (unsentHeader, error) {
	// Another form may have other parts, so what it is is read alone first.
	var is struct {
		T       string `json:"t"`
		Version int    `json:"version"`
	}
	var header unsentHeader
	if err := json.Unmarshal(line, &is); err != nil || is.T != "unsent" || is.Version < 1 {
		return header, unsentBreach(syncproto.CodeMalformed, 1, "does not say that unsent changes follow", "Choose a file that a phone saved, as it was saved.")
	}
	if is.Version > unsentForm {
		return header, unsentBreach(syncproto.CodeVersion, 1, "says that a newer version of the app saved it",
			"Bring the Corymb of the shed up to date, then read the file in again.")
	}
	if err := json.Unmarshal(line, &header); err != nil || header.Unsent < 0 {
		return header, unsentBreach(syncproto.CodeMalformed, 1, "is not as a phone writes it", saveAgain)
	}
	if header.Farm != farm {
		return header, unsentBreach(syncproto.CodeFarm, 1, "says that it is of farm "+header.Farm+", but this is the shed of farm "+farm, "Read it in at its own shed.")
	}
	return header, nil
}

func readUnsentChanges(text []byte) ([]syncproto.Change, error) {
	var changes []syncproto.Change
	for line := firstChangeLine; len(text) > 0; line++ {
		bytesOf, rest, whole := bytes.Cut(text, []byte("\n"))
		if !whole {
			return nil, unsentBreach(syncproto.CodeMalformed, line, "is cut off", saveAgain+" If the phone is gone, take this line out.")
		}
		var c syncproto.Change
		err := c.UnmarshalJSON(bytesOf)
		if err == nil {
			err = c.Check()
		}
		if err != nil {
			return nil, unsentBreach(syncproto.CodeMalformed, line, fmt.Sprintf("is not a change (%v)", err), saveAgain)
		}
		if !bytes.Equal(c.Canonical(), bytesOf) {
			return nil, unsentBreach(syncproto.CodeMalformed, line, "was altered after it was saved", saveAgain)
		}
		changes = append(changes, c)
		text = rest
	}
	return changes, nil
}

// checkWhole finds out whether lines are missing at the end, and whether one is there twice.
func (h unsentHeader) checkWhole(changes []syncproto.Change) error {
	end := firstChangeLine + len(changes)
	if len(changes) < h.Unsent {
		return unsentBreach(syncproto.CodeMalformed, end, fmt.Sprintf("is missing, for line 1 tells of %d unsent changes", h.Unsent),
			fmt.Sprintf(`%s If the phone is gone, write "unsent":%d into line 1.`, saveAgain, len(changes)))
	}
	there := make(map[syncproto.Identity]bool, len(changes))
	for i, c := range changes {
		if there[c.Identity()] {
			return unsentBreach(syncproto.CodeMalformed, firstChangeLine+i, "holds a change that a line before it holds too", saveAgain)
		}
		there[c.Identity()] = true
	}
	for id := range h.Refused {
		if !there[id] {
			return unsentBreach(syncproto.CodeMalformed, end, "is missing, for line 1 tells of the refused change "+string(id),
				saveAgain+" If the phone is gone, take that change out of line 1.")
		}
	}
	return nil
}

func checkPending(pending []syncproto.Change, incarnation string) error {
	for i, c := range pending {
		if c.Incarnation != incarnation {
			return unsentBreach(syncproto.CodeMalformed, firstChangeLine+i, "is not of the incarnation that line 1 names", saveAgain)
		}
		if i > 0 && (c.Seq != pending[i-1].Seq+1 || pending[i-1].Rest == 0 && c.Stamp.Compare(pending[i-1].Stamp) <= 0) {
			return unsentBreach(syncproto.CodeMalformed, firstChangeLine+i, "does not follow the line before it", saveAgain)
		}
	}
	return checkOperations(pending, firstChangeLine)
}

// checkOperations finds out whether the operations are whole. firstLine is the line of the first change.
func checkOperations(changes []syncproto.Change, firstLine int) error {
	for i, c := range changes {
		if c.Rest == 0 {
			continue
		}
		if i == len(changes)-1 {
			return unsentBreach(syncproto.CodeMalformed, firstLine+i, fmt.Sprintf("says that %d more changes belong to it, but they do not follow", c.Rest),
				saveAgain+" If the phone is gone, take out the lines of this operation, which have the same third and fourth part.")
		}
		next := changes[i+1]
		if next.Incarnation != c.Incarnation || next.Seq != c.Seq+1 || next.Rest != c.Rest-1 || next.Stamp != c.Stamp {
			return unsentBreach(syncproto.CodeMalformed, firstLine+i+1, "is not of one operation with the line before it", saveAgain)
		}
	}
	return nil
}

const saveAgain = "Save the file on the phone again and read that one in."

func unsentBreach(code syncproto.Code, line int, what, try string) *syncproto.Breach {
	return syncproto.Breachf(code, "Line %d of the file %s. Nothing was taken in. %s", line, what, try)
}
