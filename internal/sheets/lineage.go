package sheets

import "corymb/internal/crop"

// checkParents reports parents that are not in the file and plants that descend from themselves.
func (l *plantList) checkParents() {
	for _, p := range l.rows {
		switch {
		case p.parent == "":
		case p.parent == p.id:
			p.row.refuse("parent", "a plant cannot be its own parent: name the plant it was divided from, "+
				"or leave the cell empty")
		case l.byID[p.parent] == nil:
			p.row.refuse("parent", "plant %s is not in this file: add it, or leave the cell empty; one "+
				"parent only can be named", quote(string(p.parent)))
		}
	}
	l.checkCycles()
}

// checkCycles looks for plants that descend from themselves. It walks up from each plant and stops
// at one that was met before: met in this walk, it closes a circle; met in an earlier one, whatever
// lies above it is known already. So each plant is passed once, however long the lineage.
func (l *plantList) checkCycles() {
	walk := map[crop.PlantID]int{} // in which walk each plant was met
	for i, start := range l.rows {
		var path []*plantRow
		p := l.byID[start.id]
		for p != nil && p.parent != p.id && walk[p.id] == 0 {
			walk[p.id] = i + 1
			path = append(path, p)
			p = l.byID[p.parent]
		}
		if p != nil && len(path) > 0 && walk[p.id] == i+1 {
			refuseCycle(path, p)
		}
	}
}

// refuseCycle reports each plant of the path from the one that came up again. Those before it only
// hang on the circle and are not at fault.
func refuseCycle(path []*plantRow, again *plantRow) {
	inside := false
	for _, p := range path {
		inside = inside || p == again
		if inside {
			p.row.refuse("parent", "plant %s would descend from itself by way of its parent %s: correct "+
				"the parents", quote(string(p.id)), quote(string(p.parent)))
		}
	}
}
