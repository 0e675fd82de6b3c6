package yield

import (
	"encoding/json"
	"math"
)

// Figure is a number that is null in JSON where it has no finite value, as a flat prior may leave it.
type Figure float64

// None is the Figure without a value.
var None = Figure(math.NaN())

// Known tells whether the figure has a value.
func (f Figure) Known() bool { return !math.IsNaN(float64(f)) && !math.IsInf(float64(f), 0) }

// MarshalJSON writes null for None.
func (f Figure) MarshalJSON() ([]byte, error) {
	if !f.Known() {
		return []byte("null"), nil
	}
	return json.Marshal(float64(f))
}

// UnmarshalJSON reads null as None.
func (f *Figure) UnmarshalJSON(b []byte) error {
	if string(b) == "null" {
		*f = None
		return nil
	}
	return json.Unmarshal(b, (*float64)(f))
}
