package main

import (
	"flag"
	"os"
	"path/filepath"
)

// dataFlag adds the flag that names the folder of a farm.
func dataFlag(set *flag.FlagSet) *string {
	return set.String("data", defaultData(), "the `folder` that holds the farm; made where it is missing")
}

// defaultData is a folder of the person's own, by the habit of the system.
func defaultData() string {
	if dir := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "corymb")
	}
	if dir, err := os.UserConfigDir(); err == nil {
		return filepath.Join(dir, "corymb")
	}
	return "corymb-data"
}
