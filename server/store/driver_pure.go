//go:build !cgo

package store

import (
	"errors"
	"fmt"
	"net/url"

	"modernc.org/sqlite"
)

// SQLite translated from C to Go, for machines that no C compiler is at hand for. What a driver does in
// its own way stands in this file and in driver_cgo.go.

// DriverName is what database/sql calls the driver.
const DriverName = "sqlite"

// driverModule is where the driver comes from.
const driverModule = "modernc.org/sqlite"

// withCache adds how much of the database a connection may hold in memory.
func withCache(kib int, options url.Values) url.Values {
	options.Set("_pragma", fmt.Sprintf("cache_size(%d)", -kib))
	return options
}

// resultCode is SQLite's primary result code behind an error, 0 where there is none.
func resultCode(err error) int {
	var failure *sqlite.Error
	if errors.As(err, &failure) {
		return failure.Code() & 0xff // an extended code has the primary one in its lowest byte
	}
	return 0
}
