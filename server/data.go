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

// defaultData is the folder Corymb in the person's own, where they find it to copy it. Not among their
// documents: those are often kept level with a server elsewhere, which would take a database apart while
// it is written.
func defaultData() string {
	home, err := os.UserHomeDir()
	if err != nil {
		return "Corymb"
	}
	return filepath.Join(home, "Corymb")
}
