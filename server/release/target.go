package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// target is a kind of machine, as Go calls it.
type target struct{ os, arch string }

// targets are the machines that a release is made for. Linux on arm64 is the small board.
var targets = []target{
	{"linux", "amd64"}, {"linux", "arm64"},
	{"windows", "amd64"},
	{"darwin", "amd64"}, {"darwin", "arm64"},
}

func (t target) String() string { return t.os + "/" + t.arch }

// file is the name of its binary.
func (t target) file(version string) string {
	system := map[string]string{"darwin": "macos"}[t.os]
	if system == "" {
		system = t.os
	}
	name := fmt.Sprintf("corymb-%s-%s-%s", version, system, t.arch)
	if t.os == "windows" {
		name += ".exe"
	}
	return name
}

// env is an environment in which nothing but the target decides what is compiled: the person's own
// settings of Go would else show in the bytes.
func (t target) env() []string {
	return append(os.Environ(), "GOOS="+t.os, "GOARCH="+t.arch, "GOAMD64=v1", "GOARM64=v8.0",
		"CGO_ENABLED=0", "GOFLAGS=", "GOEXPERIMENT=", "GOFIPS140=off", "GOWORK=off")
}

// compile makes the binary of a target in a folder.
func (t target) compile(root, version, out string, log io.Writer) error {
	path := filepath.Join(out, t.file(version))
	stamp := "-s -w -X corymb/webapp.release=yes -X corymb/server/about.version=" + version
	build := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags", stamp, "-o", path, "./server")
	build.Dir, build.Env, build.Stdout, build.Stderr = root, t.env(), log, log
	if err := build.Run(); err != nil {
		return fmt.Errorf("compiling for %s: %w", t, err)
	}
	return nil
}

// wanted reads a list of targets, all where it is empty.
func wanted(list string) ([]target, error) {
	if list == "" {
		return targets, nil
	}
	var chosen []target
	for name := range strings.SplitSeq(list, ",") {
		i := slices.IndexFunc(targets, func(t target) bool { return t.String() == strings.TrimSpace(name) })
		if i < 0 {
			return nil, fmt.Errorf("there is no target %q: choose among %v", name, targets)
		}
		chosen = append(chosen, targets[i])
	}
	return chosen, nil
}
