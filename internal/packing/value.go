package packing

import (
	"encoding/json"
	"fmt"
	"math"
	"math/big"
	"strings"
)

// mostNumber is the largest whole number that every program that reads JSON keeps exactly.
const mostNumber = 1 << 53

type readValue = func(json.RawMessage) (code, wrong string)

func textInto(into *string) readValue {
	return func(raw json.RawMessage) (string, string) {
		if json.Unmarshal(raw, into) != nil {
			return CodeKind, short(raw) + ` is not text: write it in quotation marks`
		}
		return "", ""
	}
}

func textsInto(into *[]string) readValue {
	return func(raw json.RawMessage) (string, string) {
		var all []*string
		if json.Unmarshal(raw, &all) != nil {
			return CodeKind, short(raw) + ` is not a list of texts: write it as ["…","…"]`
		}
		*into = []string{}
		for _, text := range all {
			if text == nil {
				return CodeKind, short(raw) + ` has something in it that is not text: write it as ["…","…"]`
			}
			*into = append(*into, *text)
		}
		return "", ""
	}
}

func listInto(into *[]json.RawMessage) readValue {
	return func(raw json.RawMessage) (string, string) {
		if json.Unmarshal(raw, into) != nil {
			return CodeKind, short(raw) + ` is not a list: write it as [{…},{…}]`
		}
		return "", ""
	}
}

func truthInto(into *bool) readValue {
	return func(raw json.RawMessage) (string, string) {
		if json.Unmarshal(raw, into) != nil {
			return CodeKind, short(raw) + ` is neither true nor false`
		}
		return "", ""
	}
}

// numberInto reads a number that is whole when taken so many times, exactly.
func numberInto(into *int64, times int64) readValue {
	return func(raw json.RawMessage) (string, string) {
		var number json.Number
		if len(raw) == 0 || raw[0] == '"' || json.Unmarshal(raw, &number) != nil {
			return CodeKind, short(raw) + ` is not a number: write it without quotation marks`
		}
		rough, err := number.Float64()
		if err != nil || math.Abs(rough)*float64(times) > mostNumber {
			return CodeTooLarge, fmt.Sprintf("%s is too large: at most %d can be kept exactly", short(raw), int64(mostNumber)/times)
		}
		exact, ok := new(big.Rat), math.Abs(rough) >= 1e-9 || !strings.ContainsAny(number.String(), "123456789")
		if ok && rough != 0 { // an exponent can be long, but no more than that of a float64 now
			_, ok = exact.SetString(number.String())
		}
		exact.Mul(exact, new(big.Rat).SetInt64(times))
		if !ok || !exact.IsInt() {
			if times > 1 {
				return CodeKind, fmt.Sprintf("%s has more than one place after the point", short(raw))
			}
			return CodeKind, fmt.Sprintf("%s is not a whole number", short(raw))
		}
		*into = exact.Num().Int64()
		return "", ""
	}
}
