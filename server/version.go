package main

import (
	"context"
	"fmt"
	"io"
	"runtime"

	"corymb/server/about"
	"corymb/server/httpapi"
	"corymb/server/store"
)

// versionCommand says which program this is and what it stands on.
func versionCommand(_ context.Context, args []string, out io.Writer) error {
	if err := parse(flags("version"), args); err != nil {
		return err
	}
	sqlite, library, err := store.Engine()
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "corymb %s\n%s %s/%s\nSQLite %s (%s)\n",
		about.Version(), runtime.Version(), runtime.GOOS, runtime.GOARCH, sqlite, library)
	return nil
}

// licencesCommand prints the licence of everything that is in the program.
func licencesCommand(_ context.Context, args []string, out io.Writer) error {
	if err := parse(flags("licences"), args); err != nil {
		return err
	}
	return about.WriteLicences(out)
}

// aboutThis is what the app shows of the program.
func aboutThis() (httpapi.About, error) {
	sqlite, library, err := store.Engine()
	if err != nil {
		return httpapi.About{}, err
	}
	said := httpapi.About{Version: about.Version(), Go: runtime.Version(), SQLite: sqlite, Driver: library}
	for _, d := range about.Dependencies() {
		said.Dependencies = append(said.Dependencies, httpapi.Dependency(d))
	}
	return said, nil
}
