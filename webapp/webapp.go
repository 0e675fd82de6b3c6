// Package webapp carries the built web app inside the binary.
package webapp

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var dist embed.FS

// release is set by the linker (-X corymb/webapp.release=yes) in a binary that is handed out: it
// serves what it carries and never looks for a checkout.
var release string

// IsRelease tells whether this binary was made to be handed out.
func IsRelease() bool { return release != "" }

// Carried is the web app inside the binary. ok is false where the binary was compiled before the
// web app was ever built.
func Carried() (app fs.FS, ok bool) {
	app, err := fs.Sub(dist, "dist")
	if err != nil {
		return nil, false
	}
	_, err = fs.Stat(app, "index.html")
	return app, err == nil
}
