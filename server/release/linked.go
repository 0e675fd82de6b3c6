package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"corymb/server/about"
)

// linkedModule is a module of which packages are compiled into the program.
type linkedModule struct {
	path, version, dir string
	packages           []string // their folders
}

// linked lists the modules of the program, by path: of every release, and of a build from source with
// a C compiler.
func linked(root string) ([]linkedModule, error) {
	found := map[string]linkedModule{}
	inC := target{os: runtime.GOOS, arch: runtime.GOARCH}
	if err := listLinked(root, append(inC.env(), "CGO_ENABLED=1"), found); err != nil {
		return nil, err
	}
	for _, t := range targets {
		if err := listLinked(root, t.env(), found); err != nil {
			return nil, err
		}
	}
	return slices.SortedFunc(maps.Values(found), func(a, b linkedModule) int { return strings.Compare(a.path, b.path) }), nil
}

func listLinked(root string, env []string, found map[string]linkedModule) error {
	list := exec.Command("go", "list", "-deps", "-json=Dir,Module", "./server")
	list.Dir, list.Env = root, env
	var errs bytes.Buffer
	list.Stderr = &errs
	out, err := list.Output()
	if err != nil {
		return fmt.Errorf("listing what is linked: %w\n%s", err, errs.String())
	}
	for decoder := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			Dir    string
			Module *struct {
				Path, Version, Dir string
				Main               bool
			}
		}
		if err := decoder.Decode(&p); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return fmt.Errorf("reading what go list says: %w", err)
		}
		if p.Module == nil || p.Module.Main { // of Go itself, or ours
			continue
		}
		m := found[p.Module.Path]
		m.path, m.version, m.dir = p.Module.Path, p.Module.Version, p.Module.Dir
		if !slices.Contains(m.packages, p.Dir) {
			m.packages = append(m.packages, p.Dir)
		}
		found[m.path] = m
	}
}

// dependency reads what the module says of its licence: in its root, and in the folders between that and
// a linked package, where code from elsewhere may keep its own.
func (m linkedModule) dependency() (about.Dependency, error) {
	folders := map[string]bool{}
	for _, dir := range m.packages {
		for ; len(dir) > len(m.dir); dir = filepath.Dir(dir) {
			folders[dir] = true
		}
	}
	return dependency(m.path, m.version, append([]string{m.dir}, slices.Sorted(maps.Keys(folders))...))
}

// goDependency is Go's own library and runtime. Its version is told by whatever it compiled.
func goDependency() (about.Dependency, error) {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return about.Dependency{}, fmt.Errorf("finding out where Go is: %w", err)
	}
	return dependency(about.GoName, "", []string{strings.TrimSpace(string(out))})
}

// bundled lists the packages of the web app, by building it once more into a folder that is thrown away.
func bundled(root string, log io.Writer) ([]string, error) {
	web := filepath.Join(root, "webapp")
	scratch, err := os.MkdirTemp("", "corymb-bundled-")
	if err != nil {
		return nil, fmt.Errorf("making a folder for the web app: %w", err)
	}
	defer os.RemoveAll(scratch)
	list := filepath.Join(scratch, "packages.json")
	run := exec.Command("npx", "vite", "build", "--logLevel", "warn", "--outDir", scratch)
	run.Dir, run.Env, run.Stdout, run.Stderr = web, append(os.Environ(), "CORYMB_BUNDLED="+list), log, log
	if err := run.Run(); err != nil {
		return nil, fmt.Errorf("building the web app to see what is in it: %w", err)
	}
	said, err := os.ReadFile(list)
	if err != nil {
		return nil, fmt.Errorf("reading what the web app is made of: %w", err)
	}
	var packages []string
	if err := json.Unmarshal(said, &packages); err != nil || len(packages) == 0 {
		return nil, fmt.Errorf("reading what the web app is made of: %d packages, %w", len(packages), err)
	}
	return packages, nil
}

// packageDependency reads what a package of npm says of its licence.
func packageDependency(root, name string) (about.Dependency, error) {
	dir := filepath.Join(root, "webapp", "node_modules", filepath.FromSlash(name))
	text, err := os.ReadFile(filepath.Join(dir, "package.json"))
	if err != nil {
		return about.Dependency{}, fmt.Errorf("reading the version of %s: %w", name, err)
	}
	var said struct{ Version string }
	if err := json.Unmarshal(text, &said); err != nil {
		return about.Dependency{}, fmt.Errorf("reading the version of %s: %w", name, err)
	}
	folders := []string{dir}
	// What was compiled into a package's files and is not said in it, we keep ourselves.
	inside := filepath.Join(root, "server", "release", "inside", filepath.FromSlash(name))
	if _, err := os.Stat(inside); err == nil {
		folders = append(folders, inside)
	}
	return dependency(name, said.Version, folders)
}
