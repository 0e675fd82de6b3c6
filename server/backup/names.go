package backup

import (
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"golang.org/x/text/unicode/norm"

	"corymb/server/store"
)

// Names of backups: they sort by time and are good on every system.

// ours is what the names of backups look like.
var ours = regexp.MustCompile(`^corymb-[a-z0-9-]+-\d{4}-\d{2}-\d{2}-\d{4}(-\d+)?\.zip$`)

// nameOf is the name of a backup, by the time of a zone.
func nameOf(m Manifest, zone *time.Location) string {
	return "corymb-" + called(m) + m.Made.In(zone).Format("-2006-01-02-1504") + ".zip"
}

// called is a farm's name in a file's, or a part of its id where it has none that could be.
func called(m Manifest) string {
	if name := slug(m.Name); name != "" {
		return name
	}
	return fmt.Sprintf("farm-%.8s", m.Farm)
}

// numbered is a name that is not taken yet: two may be made within a minute, or an hour come twice.
func numbered(name string, n int) string {
	if n == 1 {
		return name
	}
	return fmt.Sprintf("%s-%d.zip", strings.TrimSuffix(name, ".zip"), n)
}

// faultyName does not look like the name of a good backup.
func faultyName(m Manifest) string { return "corymb-" + called(m) + "-with-faults.zip" }

// unfinishedName is the same for every backup of a database, so that what a killed program left is
// replaced, and another for another copy of the farm, which may write to the same folder.
func unfinishedName(s *store.Store) string {
	return fmt.Sprintf("corymb-%.8s-%.8s.zip.partial", s.Farm(), s.Epoch())
}

const longestSlug = 40

// slug is a name in letters without accents, digits and hyphens; empty where nothing of it is left.
func slug(name string) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(strings.ToLower(name)) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case r >= 0x300 && r < 0x370: // accents
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	short := b.String()
	short = strings.Trim(short[:min(len(short), longestSlug)], "-")
	return short
}

// Names within a backup, which are those of the data folder with slashes.

const (
	manifestName = "manifest.json"
	settingsName = "backup.json"
	scratchName  = "backup.partial"
	photosFolder = "photos"
	// removedFolder is that in it which holds an empty file for each photo that was removed.
	removedFolder = "removed"
	certsFolder   = "certs"
	// answerPrefix begins the name of what was worked out, which another shed works out again.
	answerPrefix = "corymb.answer-"
	// addressName says where the farm is served at the moment.
	addressName = "corymb.address"
)

var (
	plain     = regexp.MustCompile(`^[A-Za-z0-9]([A-Za-z0-9._-]{0,98}[A-Za-z0-9])?$`)
	photoName = regexp.MustCompile(`^[0-9a-f]{64}$`)
)

// mayHold tells whether a backup may hold a file of this name: nothing else is put in, or written by a
// restore.
func mayHold(name string) bool {
	if !filepath.IsLocal(filepath.FromSlash(name)) { // on Windows, devices too
		return false
	}
	parts := strings.Split(name, "/")
	switch {
	case len(parts) == 1:
		return plain.MatchString(name) && name != photosFolder && name != certsFolder && !isOfThisMachine(name)
	case parts[0] == photosFolder:
		return len(parts) == 3 && isPhoto(parts[1], parts[2])
	case parts[0] == certsFolder:
		return len(parts) <= 3 && !slices.ContainsFunc(parts[1:], func(part string) bool { return !plain.MatchString(part) })
	}
	return false
}

// isPhoto tells of a file two folders deep whether it is a photo, or notes that one was removed.
func isPhoto(folder, name string) bool {
	return photoName.MatchString(name) && (folder == name[:2] || folder == removedFolder)
}

// isOfThisMachine tells of a file in the data folder whether it is about this machine, or this opening of
// the database, rather than the farm. Without its mark a restored database is known for an older copy;
// and a copy of a farm that is only to be looked at does not write backups where the farm does.
func isOfThisMachine(name string) bool {
	return strings.HasPrefix(name, store.FileName+"-") || name == "corymb.mark" || strings.HasPrefix(name, answerPrefix) || strings.HasPrefix(name, "corymb.lock") ||
		name == settingsName || name == manifestName || strings.HasSuffix(name, ".partial")
}
