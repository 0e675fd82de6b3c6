//go:build cgo

package store

import (
	"errors"
	"fmt"
	"net/url"

	"github.com/mattn/go-sqlite3"
)

// SQLite itself, in C. What a driver does in its own way stands in this file and in driver_pure.go.

// DriverName is what database/sql calls the driver.
const DriverName = "sqlite3"

// driverModule is where the driver comes from.
const driverModule = "github.com/mattn/go-sqlite3"

// withCache adds how much of the database a connection may hold in memory.
func withCache(kib int, options url.Values) url.Values {
	options.Set("_cache_size", fmt.Sprint(-kib))
	return options
}

// resultCode is SQLite's primary result code behind an error, 0 where there is none.
func resultCode(err error) int {
	var failure sqlite3.Error
	if errors.As(err, &failure) {
		return int(failure.Code)
	}
	return 0
}
