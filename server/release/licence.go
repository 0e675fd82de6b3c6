package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"corymb/server/about"
)

// listFile holds the list that the program carries, below the root.
var listFile = filepath.Join("server", "about", "dependencies.json")

// collect makes the list anew from what is really linked and bundled, by name.
func collect(root string, log io.Writer) ([]byte, error) {
	all, err := collectGo(root)
	if err != nil {
		return nil, err
	}
	packages, err := bundled(root, log)
	if err != nil {
		return nil, err
	}
	for _, name := range packages {
		d, err := packageDependency(root, name)
		if err != nil {
			return nil, err
		}
		all = append(all, d)
	}
	return encode(all)
}

// collectGo is the part of the list that is linked.
func collectGo(root string) ([]about.Dependency, error) {
	of, err := goDependency()
	if err != nil {
		return nil, err
	}
	modules, err := linked(root)
	if err != nil {
		return nil, err
	}
	all := []about.Dependency{of}
	for _, m := range modules {
		d, err := m.dependency()
		if err != nil {
			return nil, err
		}
		all = append(all, d)
	}
	return all, nil
}

func encode(all []about.Dependency) ([]byte, error) {
	slices.SortFunc(all, func(a, b about.Dependency) int {
		return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
	})
	var list bytes.Buffer
	encoder := json.NewEncoder(&list)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", " ")
	if err := encoder.Encode(all); err != nil {
		return nil, fmt.Errorf("writing the list of licences: %w", err)
	}
	return list.Bytes(), nil
}

// dependency reads the licence files of folders, the first of which must hold one.
func dependency(name, version string, folders []string) (about.Dependency, error) {
	d := about.Dependency{Name: name, Version: version, Licence: about.SeeText}
	var texts []string
	for i, dir := range folders {
		files, err := licenceFiles(dir)
		if err != nil {
			return d, err
		}
		if i == 0 && len(files) == 0 {
			return d, fmt.Errorf("%s has no licence file in %s: look whether it may be passed on at all", name, dir)
		}
		for _, file := range files {
			read, err := os.ReadFile(file)
			if err != nil {
				return d, fmt.Errorf("reading the licence of %s: %w", name, err)
			}
			text := strings.TrimSpace(strings.ReplaceAll(string(read), "\r\n", "\n"))
			if i == 0 && mainLicence.MatchString(filepath.Base(file)) {
				text = withoutTools(text)
				d.Licence = recognise(text)
			}
			inside, err := filepath.Rel(folders[0], file)
			if err != nil {
				return d, fmt.Errorf("reading the licence of %s: %w", name, err)
			}
			if !filepath.IsLocal(inside) {
				inside = filepath.Base(file)
			}
			texts = append(texts, filepath.ToSlash(inside)+":\n\n"+text)
		}
	}
	d.Text = strings.Join(texts, "\n\n")
	return d, nil
}

var (
	licenceFile = regexp.MustCompile(`(?i)^(un)?licen[cs]e|^copying|^notice|^patents|^third[-_]party`)
	mainLicence = regexp.MustCompile(`(?i)^(licen[cs]e|copying)(\.md|\.txt)?$`)
)

// licenceFiles lists the files of a folder that state a licence, and those of a folder in it that holds
// nothing else.
func licenceFiles(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("looking for a licence: %w", err)
	}
	var files []string
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		switch {
		case !licenceFile.MatchString(e.Name()) || strings.HasSuffix(e.Name(), ".go"):
		case e.IsDir():
			inside, err := filepath.Glob(filepath.Join(path, "*"))
			if err != nil {
				return nil, fmt.Errorf("looking for a licence: %w", err)
			}
			files = append(files, inside...)
		default:
			files = append(files, path)
		}
	}
	return files, nil
}

// toolsOfVite begins what vite says of the libraries that it uses itself; of vite, only the few lines
// that fetch a page's parts are in the app.
const toolsOfVite = "# Licenses of bundled dependencies"

func withoutTools(text string) string {
	text, _, _ = strings.Cut(text, toolsOfVite)
	return strings.TrimSpace(text)
}

// known are sentences that a licence has and no other of these has, by SPDX identifier
// (https://spdx.org/licenses/). Spaces are taken together and letters made small before they are looked for.
var known = []struct {
	id       string
	has, not string
}{
	{"MIT", "permission is hereby granted, free of charge, to any person obtaining a copy of this software", "font software"},
	{"ISC", "permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted, provided that", ""},
	{"BSD-3-Clause", "neither the name", "the above copyright notice and this permission notice"},
	{"BSD-2-Clause", "redistributions in binary form must reproduce", "neither the name"},
	{"Apache-2.0", "apache license version 2.0", ""},
	{"MPL-2.0", "mozilla public license version 2.0", ""},
	{"OFL-1.1", "sil open font license version 1.1", ""},
}

// recognise names the licence of a text, or says that the text must be read.
func recognise(text string) string {
	plain := strings.ToLower(strings.Join(strings.Fields(text), " "))
	var ids []string
	for _, k := range known {
		if strings.Contains(plain, k.has) && (k.not == "" || !strings.Contains(plain, k.not)) {
			ids = append(ids, k.id)
		}
	}
	if len(ids) == 1 {
		return ids[0]
	}
	return about.SeeText
}
