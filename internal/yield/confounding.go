package yield

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"corymb/internal/crop"
)

// pair is an age seen in a season.
type pair struct {
	age    int
	season crop.Season
}

// confounding says where an age cannot be told from a season's weather.
//
// Take ages and seasons as the two factors of an additive model of the log mean, and each (age,
// season) with a finished plant-season as an edge between its two nodes. Differences between ages
// can be estimated apart from seasons exactly within a connected component of that graph (Weeks and
// Williams 1964, Technometrics 6:319-324; Searle 1987, Linear Models for Unbalanced Data, section
// 5.3). One planting alone gives a component for every year: age and weather are the same thing.
//
// With one season only the graph is a star: ages can be compared with one another, but each has been
// seen in that season's weather alone, so no level carries over to another year. Ages that each have
// one season, in several seasons, are several components, so these two notes cover that case.
func confounding(seasons []PlantSeason) []Note {
	edges := edgesOf(seasons)
	if len(edges) == 0 {
		return nil
	}
	parts := components(edges)
	if len(parts) > 1 {
		split := make([]string, len(parts))
		for i, part := range parts {
			split[i] = describe(part)
		}
		groups, which := strconv.Itoa(len(parts)), strings.Join(split, "; ")
		return []Note{note(NoteAgeIsSeason, "Age and season cannot be told apart: the counted plants fall into "+groups+
			" groups that share neither an age nor a season ("+which+"). A difference between them may be the weather.",
			"groups", groups, "split", which)}
	}
	if first := edges[0].season; !slices.ContainsFunc(edges, func(e pair) bool { return e.season != first }) {
		season := strconv.Itoa(int(first))
		return []Note{note(NoteOneSeason, "All counted plants were seen in one season, "+season+
			": what an age gives cannot be told from that year's weather.", "season", season)}
	}
	return nil
}

// earlyOrMore says that a running season's stems so far cannot tell how much plants give from when they flower:
// before a flush's middle, one that came a week earlier and one that will give more look alike beside what
// former seasons had by then, and which part of it has passed is known only afterwards.
func earlyOrMore(seasons []PlantSeason) []Note {
	newest, cutFrom, former := crop.Season(0), false, false
	for _, s := range seasons {
		newest = max(newest, s.Season)
	}
	for _, s := range seasons {
		cutFrom = cutFrom || s.Season == newest && s.Open && s.Stems > 0
		former = former || s.Season < newest && !s.Open
	}
	if !cutFrom || !former {
		return nil
	}
	season := strconv.Itoa(int(newest))
	return []Note{note(NoteEarlyOrMore, "Season "+season+" still runs. Until its flush has passed the middle, more stems than in "+
		"former seasons by then may mean that plants give more, or merely that they flower earlier; fewer, that they give less "+
		"or flower later. What is still being counted is not in the numbers yet.", "season", season)}
}

func edgesOf(seasons []PlantSeason) []pair {
	seen := map[pair]bool{}
	for _, s := range seasons {
		if !s.Open {
			seen[pair{s.age, s.Season}] = true
		}
	}
	return slices.SortedFunc(maps.Keys(seen), func(a, b pair) int {
		return cmp.Or(cmp.Compare(a.age, b.age), cmp.Compare(a.season, b.season))
	})
}

// components grows one group at a time: an edge belongs to a group with which it shares an end.
func components(edges []pair) [][]pair {
	var parts [][]pair
	left := slices.Clone(edges)
	for len(left) > 0 {
		part := []pair{left[0]}
		left = left[1:]
		for i := 0; i < len(part); i++ {
			var apart []pair
			for _, e := range left {
				if e.age == part[i].age || e.season == part[i].season {
					part = append(part, e)
				} else {
					apart = append(apart, e)
				}
			}
			left = apart
		}
		parts = append(parts, part)
	}
	return parts
}

// link is a cluster graded by a person.
type link struct {
	cluster cluster
	grader  crop.PersonID
}

// linked names the groups of people who are linked by what they graded; two are where one cluster has both.
func linked(edges []link) []crop.PersonID {
	root := map[crop.PersonID]crop.PersonID{}
	find := func(p crop.PersonID) crop.PersonID {
		for root[p] != p {
			p = root[p]
		}
		return p
	}
	first := map[cluster]crop.PersonID{}
	for _, e := range edges {
		if _, known := root[e.grader]; !known {
			root[e.grader] = e.grader
		}
		if other, known := first[e.cluster]; known {
			root[find(e.grader)] = find(other)
		} else {
			first[e.cluster] = e.grader
		}
	}
	var groups []crop.PersonID
	for p := range root {
		if root[p] == p {
			groups = append(groups, p)
		}
	}
	slices.Sort(groups)
	return groups
}

// describe writes a group like "age 1 in 2024, 2025".
func describe(part []pair) string {
	ages, seasons := map[int]bool{}, map[crop.Season]bool{}
	for _, e := range part {
		ages[e.age], seasons[e.season] = true, true
	}
	var names []string
	for _, a := range slices.Sorted(maps.Keys(ages)) {
		names = append(names, strconv.Itoa(a))
	}
	return fmt.Sprintf("age %s in %s", strings.Join(names, ", "), joinSeasons(slices.Sorted(maps.Keys(seasons))))
}

func joinSeasons(seasons []crop.Season) string {
	names := make([]string, len(seasons))
	for i, s := range seasons {
		names[i] = strconv.Itoa(int(s))
	}
	return strings.Join(names, ", ")
}
