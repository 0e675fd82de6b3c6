package about

import (
	"fmt"
	"os"
	"runtime"
	"sync"
)

// Build names this very program among all others, so that what one worked out is not taken for another's. Two that were
// built of changed files call themselves by one version: the program's file tells them apart. It is looked at once, since
// another may be put in its place while this one runs: who calls this first does so as the program starts.
var Build = sync.OnceValue(func() string {
	said := fmt.Sprintf("%s %s %s/%s", Version(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	path, err := os.Executable()
	if err != nil {
		return said
	}
	info, err := os.Stat(path)
	if err != nil {
		return said
	}
	return fmt.Sprintf("%s %d %d", said, info.Size(), info.ModTime().UnixNano())
})
