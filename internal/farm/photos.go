package farm

import "corymb/internal/changelog"

// Photos are all photos that a state names: those of plants, taken away or not, of withdrawn plants too, and
// whatever may be one in what a later version added.
func Photos(state *changelog.State) map[string]bool {
	named := map[string]bool{}
	state.Entities(func(e *changelog.Entity) {
		e.Texts(func(text string) {
			if isPhoto(text) {
				named[text] = true
			}
		})
	})
	return named
}
