package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"corymb/server/photos"
	"corymb/server/store"
)

// startCommand serves a farm and shows it in the browser: what a double click does.
func startCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("start")
	where := place{tls: tlsLocal} // what a double click serves is for phones
	where.flags(set)
	data := dataFlag(set)
	backups := backupsFlag(set)
	limits := photoLimits(set)
	if err := parse(set, args); err != nil {
		return err
	}
	return startAndShow(ctx, where, *data, *limits, choosing(*data, *backups, out), out)
}

// startAndShow serves the farm in a folder until the context ends, or only shows it where a process does that
// already.
func startAndShow(ctx context.Context, where place, data string, limits photos.Limits, fill fill, out io.Writer) error {
	err := serve(ctx, where, data, limits, out, fill, func(url string) {
		fmt.Fprintln(out, "It runs as long as this window is open. A second start only shows it again.")
		go show(url, out)
	})
	var inUse *store.InUse
	if !errors.As(err, &inUse) {
		return err
	}
	url, found := waitForAddress(ctx, data)
	if !found {
		return err
	}
	fmt.Fprintf(out, "Corymb runs already, at %s\n", url)
	show(url, out)
	return nil
}

// show opens the browser, or says what to do where there is none.
func show(url string, out io.Writer) {
	name, args := opener(runtime.GOOS)
	if err := exec.Command(name, append(args, url)...).Run(); err != nil {
		fmt.Fprintf(out, "No browser could be opened from here (%v). Open %s in one.\n", err, url)
	}
}

// opener is what opens an address in the person's own browser.
func opener(system string) (name string, args []string) {
	switch system {
	case "windows":
		return "rundll32", []string{"url.dll,FileProtocolHandler"}
	case "darwin":
		return "open", nil
	default:
		return "xdg-open", nil
	}
}

// addressName is the file in the data folder that says where the farm is served while it is.
const addressName = "corymb.address"

// noteAddress writes where a farm is served. Without it a second start says that the folder is in use.
func noteAddress(data, url, farm string, out io.Writer) {
	err := os.WriteFile(filepath.Join(data, addressName), []byte(url+"\n"+farm+"\n"), 0o600)
	if err != nil {
		fmt.Fprintf(out, "A second start will not find this one: %v\n", err)
	}
}

func forgetAddress(data string) {
	_ = os.Remove(filepath.Join(data, addressName)) // who reads it asks there anyway
}

// A process that holds a folder may still be on its way to serve it.
const (
	addressTries = 20
	addressPause = 250 * time.Millisecond
)

func waitForAddress(ctx context.Context, data string) (url string, found bool) {
	for range addressTries {
		if url, found = servedAt(ctx, data); found {
			return url, true
		}
		select {
		case <-ctx.Done():
			return "", false
		case <-time.After(addressPause):
		}
	}
	return "", false
}

// servedAt is the address at which a process serves the farm of a folder. What a killed process noted
// may be another farm's address by now, so it is asked for its farm.
func servedAt(ctx context.Context, data string) (url string, found bool) {
	noted, err := os.ReadFile(filepath.Join(data, addressName))
	if err != nil {
		return "", false
	}
	url, farm, _ := strings.Cut(strings.TrimSpace(string(noted)), "\n")
	asking, cancel := context.WithTimeout(ctx, time.Second)
	defer cancel()
	request, err := http.NewRequestWithContext(asking, http.MethodGet, url+"/api/me", nil)
	if err != nil {
		return "", false
	}
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		return "", false
	}
	defer response.Body.Close()
	var said struct{ Farm string } // told to whoever has not joined, too
	err = json.NewDecoder(response.Body).Decode(&said)
	return url, err == nil && farm != "" && said.Farm == farm
}
