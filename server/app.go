package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"corymb/webapp"
	"corymb/webapp/build"
)

// appDir is the built web app, or nil where there is none.
type appDir = fs.FS

// appFiles finds the web app: inside a checkout it is built first if it is stale, elsewhere it is
// the one that the binary carries.
func appFiles(out io.Writer) (appDir, error) {
	if !webapp.IsRelease() {
		root, err := checkout()
		if err == nil {
			return build.App(root, out)
		}
		if !errors.Is(err, build.ErrNoCheckout) {
			return nil, err
		}
	}
	if app, ok := webapp.Carried(); ok {
		return app, nil
	}
	fmt.Fprintln(out, "This program was compiled before the web app was built, so it serves phones but no pages. Start it inside a checkout to have both.")
	return nil, nil
}

func checkout() (string, error) {
	here, err := os.Getwd()
	if err != nil {
		return "", fmt.Errorf("finding out in which folder this is: %w", err)
	}
	return build.Root(here)
}
