package main

import (
	"flag"
	"os"
	"path/filepath"
	"runtime"
)

// dataFlag adds the flag that names the folder of a farm.
func dataFlag(set *flag.FlagSet) *string {
	return set.String("data", defaultData(), "the `folder` that holds the farm; made where it is missing")
}

// defaultData is a folder of the person's own, where the system keeps such: on Linux and its like
// by the XDG base directory specification.
func defaultData() string {
	if dir := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "corymb")
	}
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		if dir, err := os.UserConfigDir(); err == nil {
			return filepath.Join(dir, "corymb")
		}
	}
	if home, err := os.UserHomeDir(); err == nil {
		return filepath.Join(home, ".local", "share", "corymb")
	}
	return "corymb-data"
}
